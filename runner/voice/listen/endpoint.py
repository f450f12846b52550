"""The endpoint: decides when a person has begun and ended speaking, from block lengths and flags alone."""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final


class Patience(StrEnum):
    """How long a silence ends an utterance, in words that a person can choose by."""

    RELAXED = "relaxed"
    NORMAL = "normal"
    QUICK = "quick"


class SpeechPhase(StrEnum):
    """Where in an utterance we are."""

    WAITING = "waiting"
    SPEAKING = "speaking"
    ENDED = "ended"


@dataclass(frozen=True, slots=True)
class Pauses:
    """The lengths, in seconds, that decide."""

    start: float
    """This much speech begins an utterance; less is a click."""
    end: float
    """This much silence ends it."""
    settled: float
    """This much silence ends it once the recogniser needs to hear no more."""
    longest: float
    """An utterance is over after this, whatever is heard."""


PAUSES: Final = {
    Patience.RELAXED: Pauses(start=0.09, end=1.0, settled=0.3, longest=12.0),
    Patience.NORMAL: Pauses(start=0.09, end=0.6, settled=0.12, longest=10.0),
    Patience.QUICK: Pauses(start=0.06, end=0.4, settled=0.09, longest=8.0),
}
NOTE_PAUSES: Final = Pauses(start=0.09, end=2.0, settled=2.0, longest=60.0)
"""For a spoken note: free speech, with time to think."""


@dataclass(frozen=True, slots=True)
class Endpoint:
    """One utterance so far; `after` gives the next value, and a new one is built for the next utterance."""

    pauses: Pauses = PAUSES[Patience.NORMAL]
    phase: SpeechPhase = SpeechPhase.WAITING
    speech: float = 0.0
    """Seconds of speech while waiting (draining while there is none)."""
    silence: float = 0.0
    """Seconds of silence since the last speech."""
    length: float = 0.0
    """Seconds since the utterance began."""

    def after(self, seconds: float, *, is_speech: bool, is_settled: bool = False) -> "Endpoint":
        """Once a block of that length has been heard; an ended utterance stays ended."""
        if self.phase is SpeechPhase.ENDED:
            return self
        if self.phase is SpeechPhase.WAITING:
            return self._while_waiting(seconds, is_speech=is_speech)
        silence = 0.0 if is_speech else self.silence + seconds
        length = self.length + seconds
        enough = self.pauses.settled if is_settled else self.pauses.end
        over = _reaches(silence, enough) or _reaches(length, self.pauses.longest)
        phase = SpeechPhase.ENDED if over else SpeechPhase.SPEAKING
        return replace(self, phase=phase, silence=silence, length=length)

    def _while_waiting(self, seconds: float, *, is_speech: bool) -> "Endpoint":
        speech = max(0.0, self.speech + (seconds if is_speech else -seconds))
        if _reaches(speech, self.pauses.start):
            return replace(self, phase=SpeechPhase.SPEAKING, speech=speech, length=speech)
        return replace(self, speech=speech)


def _reaches(seconds: float, limit: float) -> bool:
    """Compare sums of block lengths without tripping over the last bit."""
    return seconds >= limit - 1e-6
