"""`eyesout mic --learn`: twenty phrases, and what they say of voice, microphone and room, kept for later."""

from __future__ import annotations

import argparse
import json
import queue
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict
from typing import TextIO

from runner.errors import AudioError, VoiceError
from runner.place import learned_folder, prompt_folder
from runner.session.engine import make_recogniser
from runner.session.learn.learning import learn, present_engines
from runner.session.learn.profile import describe, forget_learned, keep_learned
from runner.session.learn.teacher import Teacher
from runner.session.live.prompt_mouth import Mouth, make_mouth
from runner.voice.card.audio_clock import start_clock
from runner.voice.card.portaudio import PortAudio, Role
from runner.voice.card.sounddevice_microphone import SounddeviceMicrophone
from runner.voice.card.sounddevice_speaker import GRACE_SECONDS, SounddeviceSpeaker
from runner.voice.lesson.advice import get_advice
from runner.voice.lesson.learned import Learned
from runner.voice.port import Block


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What is learned, of whom, and how the phrases are asked for."""
    learned = parser.add_argument_group("learning your voice, for you and this microphone")
    which = learned.add_mutually_exclusive_group()
    which.add_argument("--learn", action="store_true", help="say twenty phrases; pick ear and threshold")
    which.add_argument("--forget", action="store_true", help="remove what was learned")
    learned.add_argument("--by", default="", metavar="NAME", help="who speaks, as in `eyesout run --by NAME`")
    learned.add_argument("--silent", action="store_true", help="show the phrases and do not speak them")
    learned.add_argument("--headset", action="store_true", help="the microphone cannot hear the loudspeaker")
    learned.add_argument("--loudspeaker", default="", metavar="DEVICE", help="number or part of its name")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Learn or forget; AudioError (exit code 4) without a microphone."""
    audio = PortAudio(start_clock())
    device = audio.name_of(Role.MICROPHONE, arguments.microphone)
    if arguments.forget:
        return _forget(arguments, device, out)
    engines = present_engines(arguments.engine)
    with _booth(arguments, audio, sys.stderr if arguments.json else out) as booth:
        is_apart = arguments.headset or arguments.silent
        lesson = Teacher(booth, make_recogniser(engines[0]), has_headset=is_apart).teach()
        booth.show("Thank you. Each ear hears it again now; a moment.")
    learned = learn(lesson, engines, pilot=arguments.by, device=device, at=audio.clock.now())
    path = keep_learned(learned_folder(), learned)
    if arguments.json:
        print(json.dumps({**asdict(learned), "advice": get_advice(learned), "kept": str(path)}), file=out)
    else:
        print("\n".join(closing_lines(learned)), file=out)
        print(f"\nkept in {path}; `eyesout run` uses it for the same name and microphone", file=out)
    return 0


def closing_lines(learned: Learned) -> tuple[str, ...]:
    """What is printed after a lesson."""
    tallies = [
        f"  {ear.engine:<10} {ear.as_shipped.right} of {ear.as_shipped.answers} answers taken, "
        f"{ear.as_shipped.refused} asked again, {ear.as_shipped.wrong} taken wrongly"
        for ear in learned.ears
    ]
    return ("", *tallies, "", *get_advice(learned))


def _forget(arguments: argparse.Namespace, device: str, out: TextIO) -> int:
    is_gone = forget_learned(learned_folder(), arguments.by, device)
    who = describe(arguments.by, device)
    if arguments.json:
        print(json.dumps({"forgotten": is_gone, "pilot": arguments.by, "device": device}), file=out)
    else:
        print(f"forgot what was learned of {who}" if is_gone else f"nothing was learned of {who}", file=out)
    return 0


class SoundBooth:
    """Implements the port `Booth` with a microphone, lines on the terminal and, if there is one, a mouth."""

    def __init__(self, audio: PortAudio, shown: TextIO) -> None:
        self._audio, self._shown = audio, shown
        self._blocks: queue.Queue[Block | None] = queue.Queue()
        self._ends: queue.Queue[float] = queue.Queue()
        self._mouth: Mouth | None = None
        self._speaker: SounddeviceSpeaker | None = None

    def speak_with(self, mouth: Mouth, speaker: SounddeviceSpeaker) -> None:
        """From now on prompts are spoken too."""
        self._mouth, self._speaker = mouth, speaker

    def deliver(self, block: Block) -> None:
        """For the microphone."""
        self._blocks.put(block)

    def microphone_changed(self, is_lost: bool, _at: float) -> None:  # noqa: FBT001 - the microphone's callback
        """For the microphone: a lesson ends when it is gone."""
        if is_lost:
            self._blocks.put(None)

    def show(self, words: str) -> None:
        """A line on the terminal."""
        print(words, file=self._shown, flush=True)

    def ask(self, words: str) -> float:
        """Show and speak; gives the end on the audio clock."""
        self.show(words)
        if self._mouth is None or self._speaker is None:
            return self._audio.clock.now()
        sound = self._mouth.render(words)
        self._speaker.play(sound, self._ends.put)
        return self._ends.get(timeout=sound.seconds + 2 * GRACE_SECONDS)

    def next_block(self) -> Block:
        """The next block; AudioError when the microphone is gone."""
        block = self._blocks.get()
        if block is None:
            raise AudioError("the microphone is gone; plug it in and learn again")
        return block


@contextmanager
def _booth(arguments: argparse.Namespace, audio: PortAudio, shown: TextIO) -> Iterator[SoundBooth]:
    booth = SoundBooth(audio, shown)
    microphone = SounddeviceMicrophone(audio, arguments.microphone, booth.microphone_changed)
    mouth, voice = make_mouth(prompt_folder())
    speaker = SounddeviceSpeaker(audio, arguments.loudspeaker)
    try:
        if not arguments.silent:
            _give_voice(booth, mouth, speaker)
        microphone.open(booth.deliver)
        yield booth
    finally:
        microphone.close()
        speaker.close()
        voice.close()


def _give_voice(booth: SoundBooth, mouth: Mouth, speaker: SounddeviceSpeaker) -> None:
    """Let the booth speak, if this computer can; otherwise one line, and the phrases are shown."""
    try:
        speaker.play(mouth.render(""), lambda _at: None)
        mouth.render("Say affirm.")
    except (AudioError, VoiceError) as error:
        sys.stderr.write(f"eyesout: {error}; the phrases are only shown\n")
        return
    booth.speak_with(mouth, speaker)
