"""What a listener gives out."""

from dataclasses import dataclass

from runner.voice.listen.noise import Loudness
from runner.voice.port import Hearing, Samples


@dataclass(frozen=True, slots=True)
class UtteranceHeard:
    """An utterance has ended."""

    turn: int
    """The turn that was in force when it began."""
    hearing: Hearing
    decided_at: float
    """End of the block at which the endpoint decided, on the audio clock."""


@dataclass(frozen=True, slots=True)
class Recorded:
    """A spoken note has ended, or nobody spoke."""

    turn: int
    samples: Samples
    """The note at 16 kHz, pre-roll included; empty when nobody spoke."""
    started_at: float
    decided_at: float


@dataclass(frozen=True, slots=True)
class SpeechStarted:
    """Someone has begun to speak (with a headset: into a prompt, perhaps)."""

    at: float


@dataclass(frozen=True, slots=True)
class RoomChanged:
    """The noise floor has passed a limit."""

    at: float
    room: Loudness
    dbfs: float


@dataclass(frozen=True, slots=True)
class Level:
    """What the meter shows; a newer one replaces an older one."""

    at: float
    dbfs: float
    """Level of the whole block."""
    floor_dbfs: float
    """The noise floor, in the speech band."""
    is_speech: bool
    is_gated: bool
    """The block was not listened to, because of a prompt."""


Result = UtteranceHeard | Recorded | SpeechStarted | RoomChanged | Level
