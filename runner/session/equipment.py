"""Sound for a live run, as much of it as this computer has; what is missing gets one line, and keys serve."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from runner.core.ahead import prompts_ahead
from runner.core.event import Event
from runner.errors import AudioError, EyesoutError, ModelError, VoiceError
from runner.session.engine import make_recogniser
from runner.session.hearing import Hearing
from runner.session.mouth import Mouth, make_mouth
from runner.session.parts import Parts
from runner.voice.clock import Clock
from runner.voice.echo import EchoGate
from runner.voice.endpoint import Patience
from runner.voice.listener import Listener
from runner.voice.port import Samples
from runner.voice.portaudio import PortAudio
from runner.voice.pyttsx3_voice import Pyttsx3Voice
from runner.voice.sounddevice_microphone import SounddeviceMicrophone
from runner.voice.sounddevice_speaker import SounddeviceSpeaker


@dataclass(frozen=True, slots=True)
class Wanted:
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

    mouth: Mouth | None = None
    speaker: SounddeviceSpeaker | None = None
    hearing: Hearing | None = None
    engine: str = ""
    """Name of the ear; empty without one."""
    notices: list[str] = field(default_factory=list)
    """One line for each thing that is missing."""
    _voice: Pyttsx3Voice | None = None
    _microphone: SounddeviceMicrophone | None = None

    def close(self) -> None:
        """Let go of every device, thread and child."""
        for part in (self._microphone, self.hearing, self.speaker, self._voice):
            if part is not None:
                part.close()


def open_equipment(wanted: Wanted, parts: Parts, clock: Clock, ends: Ends) -> Equipment:
    """Open loudspeaker, voice, ear and microphone, each if it can be had."""
    equipment = Equipment()
    try:
        audio = PortAudio(clock)
    except AudioError as error:
        equipment.notices.append(f"{error}")
        return equipment
    _try(equipment, lambda: _open_mouth(equipment, wanted, parts, audio))
    _try(equipment, lambda: _open_ear(equipment, wanted, parts, audio, ends))
    return equipment


def _try(equipment: Equipment, open_part: Callable[[], None]) -> None:
    try:
        open_part()
    except (AudioError, VoiceError, ModelError) as error:
        equipment.notices.append(str(error))


def _open_mouth(equipment: Equipment, wanted: Wanted, parts: Parts, audio: PortAudio) -> None:
    mouth, voice = make_mouth(wanted.prompts, wanted.voice, wanted.rate, has_emphasis=wanted.has_emphasis)
    equipment._voice = voice  # noqa: SLF001 - this module builds the class
    mouth.render("Say continue.")
    speaker = SounddeviceSpeaker(audio, wanted.loudspeaker)
    speaker.play(mouth.render(""), lambda _at: None)
    equipment.mouth, equipment.speaker = mouth, speaker
    threading.Thread(target=_prepare, args=(mouth, parts), name="prompts", daemon=True).start()


def _prepare(mouth: Mouth, parts: Parts) -> None:
    """Render the check's sentences ahead of time; what fails now is told when it is needed."""
    try:
        mouth.prepare(prompts_ahead(parts.plan))
    except EyesoutError:
        return


def _open_ear(equipment: Equipment, wanted: Wanted, parts: Parts, audio: PortAudio, ends: Ends) -> None:
    recogniser = make_recogniser(wanted.engine, parts.check.pronounce, wanted.threshold)
    listener = Listener(recogniser, gate=EchoGate(has_headset=wanted.has_headset), patience=wanted.patience)
    hearing = Hearing(listener, ends.put, ends.keep_clip, audio.clock.now)
    microphone = SounddeviceMicrophone(audio, wanted.microphone, hearing.microphone_changed)
    microphone.open(hearing.deliver)
    hearing.start()
    equipment.hearing, equipment.engine = hearing, recogniser.name
    equipment._microphone = microphone  # noqa: SLF001 - this module builds the class
