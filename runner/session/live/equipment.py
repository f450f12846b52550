"""Sound for a live run, as much of it as this computer has; what is missing gets one line, and keys serve."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import takewhile
from pathlib import Path
from typing import Final

from runner.core.ask.upcoming_prompts import upcoming_prompts
from runner.core.event import Event
from runner.errors import AudioError, ModelError, VoiceError
from runner.session.engine import make_recogniser
from runner.session.live.attendant import reason_of
from runner.session.live.ear_thread import EarThread
from runner.session.live.prompt_mouth import Mouth, make_mouth
from runner.session.live.speech import Speech
from runner.session.parts import Parts
from runner.voice.card.audio_clock import Timekeeper
from runner.voice.card.portaudio import PortAudio
from runner.voice.card.sounddevice_microphone import SounddeviceMicrophone
from runner.voice.card.sounddevice_speaker import SounddeviceSpeaker
from runner.voice.listen.echo import EchoGate
from runner.voice.listen.endpoint import Patience
from runner.voice.listen.listener import Listener
from runner.voice.port import Microphone, Samples, Sound

JOIN_SECONDS: Final = 2.0
"""So long rendering ahead gets to end."""
CLOSE_SECONDS: Final = 10.0
"""So long everything together gets to close; what then still hangs is left behind."""


@dataclass(frozen=True, slots=True)
class EquipmentChoice:
    """What the user asked for."""

    engine: str
    microphone: str
    loudspeaker: str
    voice: str
    rate: int
    """Words a minute of plain text."""
    has_emphasis: bool
    """Brighter prompts."""
    patience: Patience
    has_headset: bool
    prompts: Path
    """The folder of rendered prompts."""
    worn: Callable[[Sound], Sound] | None = None
    """What each prompt passes on its way to the ear, in a drill."""
    threshold: float | None = None
    """The confidence (0 to 1) below which the ear refuses; None for its own."""


@dataclass(frozen=True, slots=True)
class Ends:
    """Where what is heard goes."""

    put: Callable[[Event], None]
    """The session's queue."""
    keep_clip: Callable[[Samples], str]
    """Stores a note and gives its name."""


@dataclass(slots=True)
class Equipment:
    """What there is. Close it after use."""

    speech: Speech | None = None
    hearing: EarThread | None = None
    engine: str = ""
    """Name of the ear; empty without one."""
    notices: list[str] = field(default_factory=list)
    """One line for each thing that is missing."""
    _closing: threading.Event = field(default_factory=threading.Event)
    _parts: list[Callable[[], object]] = field(default_factory=list)
    """What closes each part, in the order of closing: what hangs in the voice is let go by its closing."""

    def close(self) -> bool:
        """Let go of every device, thread and child, False when one hangs and is left."""
        self._closing.set()
        closer = threading.Thread(target=self._close, name="closing", daemon=True)
        closer.start()
        closer.join(CLOSE_SECONDS)
        return not closer.is_alive()

    def _close(self) -> None:
        for close_part in self._parts:
            with contextlib.suppress(Exception):  # a device that is gone has nothing to let go of
                close_part()


def open_equipment(wanted: EquipmentChoice, parts: Parts, clock: Timekeeper, ends: Ends) -> Equipment:
    """Open loudspeaker, voice, ear and microphone, each if it can be had."""
    equipment = Equipment()
    try:
        audio = PortAudio(clock)
    except AudioError as error:
        equipment.notices.append(f"{error}")
        return equipment
    _try(equipment, lambda: _open_mouth(equipment, wanted, parts, audio, ends))
    _try(equipment, lambda: _open_ear(equipment, wanted, parts, audio, ends))
    return equipment


def _try(equipment: Equipment, open_part: Callable[[], None]) -> None:
    try:
        open_part()
    except (AudioError, VoiceError, ModelError) as error:
        equipment.notices.append(str(error))


def _open_mouth(
    equipment: Equipment, wanted: EquipmentChoice, parts: Parts, audio: PortAudio, ends: Ends
) -> None:
    mouth, voice = make_mouth(wanted.prompts, wanted.voice, wanted.rate, has_emphasis=wanted.has_emphasis)
    speaker = SounddeviceSpeaker(audio, wanted.loudspeaker)
    equipment._parts += [voice.close, speaker.close]  # noqa: SLF001 - this module builds the class
    mouth.render("Say continue.")
    mouth.worn = wanted.worn
    speaker.play(mouth.render(""), lambda _at: None)
    equipment.speech = Speech(mouth, speaker, audio.clock, ends.put)
    renderer = threading.Thread(target=_prepare, args=(mouth, parts, equipment), name="prompts", daemon=True)
    renderer.start()
    equipment._parts[1:1] = [lambda: renderer.join(JOIN_SECONDS), equipment.speech.close]  # noqa: SLF001 - as above


def _prepare(mouth: Mouth, parts: Parts, equipment: Equipment) -> None:
    """Render the check's sentences ahead of time; what fails now is told when it is needed."""
    is_closing = equipment._closing.is_set  # noqa: SLF001 - this module builds the class
    with contextlib.suppress(Exception):
        mouth.prepare(takewhile(lambda _passage: not is_closing(), upcoming_prompts(parts.plan)))


def _open_ear(
    equipment: Equipment, wanted: EquipmentChoice, parts: Parts, audio: PortAudio, ends: Ends
) -> None:
    recogniser = make_recogniser(wanted.engine, parts.check.pronounce, wanted.threshold)
    listener = Listener(recogniser, gate=EchoGate(has_headset=wanted.has_headset), patience=wanted.patience)
    hearing = EarThread(listener, ends.put, ends.keep_clip, audio.clock)
    microphone: Microphone = SounddeviceMicrophone(
        audio,
        wanted.microphone,
        hearing.microphone_changed,
        lambda error: hearing.microphone_failed(reason_of(error)),
    )
    microphone.open(hearing.deliver)
    hearing.start()
    equipment.hearing, equipment.engine = hearing, recogniser.name
    equipment._parts[:0] = [microphone.close, hearing.close]  # noqa: SLF001 - this module builds the class
