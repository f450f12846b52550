"""Ports: what the session asks of an ear, a mouth and a sound card, whatever library stands behind them.

Sound inside eyesout is mono float32 between -1 and 1 at 16,000 samples a second, unless a
Sound says otherwise.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol

import numpy as np
import numpy.typing as npt

RATE = 16_000
"""Samples a second of everything that is heard."""

Samples = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Block:
    """A stretch of microphone sound, usually 30 ms."""

    samples: Samples
    started_at: float
    """Time of the first sample, seconds since the epoch on the audio clock."""

    @property
    def seconds(self) -> float:
        """How long the block lasts."""
        return len(self.samples) / RATE

    @property
    def ended_at(self) -> float:
        """Time just after the last sample."""
        return self.started_at + self.seconds


@dataclass(frozen=True, slots=True)
class Sound:
    """A rendered prompt."""

    samples: Samples
    rate: int

    @property
    def seconds(self) -> float:
        """How long it plays."""
        return len(self.samples) / self.rate


@dataclass(frozen=True, slots=True)
class Hearing:
    """What a recogniser made of one utterance."""

    text: str | None
    """One of the expected phrases, word for word; None when it was none of them."""
    confidence: float
    """Probability (0 to 1) that the text is what was said; of the best guess when text is None."""
    onset_at: float
    """When the phrase began, on the audio clock."""
    ended_at: float
    """When the phrase ended."""
    compute_seconds: float
    """Processor time spent on it."""


class More(StrEnum):
    """What may still be said after the best phrase, to a recogniser."""

    UNKNOWN = "unknown"
    """The phrase is not sure, or not complete."""
    WORDS = "words"
    """It is sure and complete, but a longer phrase in force begins with it and means something else."""
    UNIT = "unit"
    """It is sure and complete; at most its unit may follow, which changes no meaning."""
    NOTHING = "nothing"
    """It is sure and complete, and no phrase in force continues it."""


@dataclass(frozen=True, slots=True)
class Guess:
    """What a recogniser thinks while the person still speaks."""

    text: str | None
    more: More = More.UNKNOWN
    quiet: float = 0.0
    """Seconds that nobody has spoken by now, by what was just heard; 0 when nothing was."""


class Recogniser(Protocol):
    """Hears one of the expected phrases, or none. Owns no thread, device or clock."""

    name: str

    def missing_words(self, phrases: Sequence[str]) -> tuple[str, ...]:
        """Words of the phrases that this engine cannot hear at all."""
        ...

    def expect(self, phrases: Sequence[str]) -> None:
        """From the next utterance on, only these phrases can come out."""
        ...

    def feed(self, block: Block, silence_seconds: float = 0.0) -> Guess:
        """Take in the next block of an utterance, after so many seconds of silence by the endpoint."""
        ...

    def finish(self) -> Hearing:
        """The utterance is over (the endpoint decided so): say what it was, and be ready for the next."""
        ...


class Voice(Protocol):
    """Turns text into sound."""

    @property
    def name(self) -> str:
        """The voice and how it is made to sound; it stands for its sounds in the prompt cache."""
        ...

    def render(self, text: str) -> Sound:
        """Speak into memory; VoiceError when it cannot."""
        ...


class Speaker(Protocol):
    """Plays one sound at a time."""

    def play(self, sound: Sound, ended: Callable[[float], None]) -> None:
        """Play, cutting short what plays now; `ended(at)` is called once, at the second of the true end."""
        ...

    def stop(self) -> None:
        """Cut short what plays now, if anything."""
        ...

    def close(self) -> None:
        """Let go of the device."""
        ...


class Microphone(Protocol):
    """Delivers blocks to a callback until closed."""

    def open(self, deliver: Callable[[Block], None]) -> None:
        """Start; AudioError when there is no device."""
        ...

    def close(self) -> None:
        """Stop and let go of the device."""
        ...
