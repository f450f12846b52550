"""The endpoint: decides when a person has begun and ended speaking, from block lengths and flags alone."""

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final

from runner.voice.port import More


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
    longer: float
    """This much ends it when all is understood, but a longer phrase may be on its way."""
    unit: float
    """The same when that could only be the unit of a number."""
    settled: float
    """This much ends it once the recogniser needs to hear no more."""
    longest: float
    """An utterance is over after this, whatever is heard."""

    def get_silence(self, more: More) -> float:
        """The silence that ends an utterance of which this may still come."""
        waits = {More.NOTHING: self.settled, More.UNIT: self.unit, More.WORDS: self.longer}
        return waits.get(more, self.end)


# How long people pause inside a phrase, as this endpoint sees it: 2,433 gaps between words of 40 people
# in the recordings `sentences` (CMU's AN4), 578 of them inside numbers. Of these 20 % last 0.12 s
# or longer, 6.2 % 0.24 s, 1.7 % 0.36 s, 0.7 % 0.42 s, 0.3 % 0.48 s, and as many 0.6 s.
PAUSES: Final = {
    Patience.RELAXED: Pauses(start=0.09, end=1.0, longer=0.72, unit=0.48, settled=0.3, longest=12.0),
    Patience.NORMAL: Pauses(start=0.09, end=0.6, longer=0.48, unit=0.24, settled=0.06, longest=10.0),
    Patience.QUICK: Pauses(start=0.06, end=0.4, longer=0.36, unit=0.18, settled=0.06, longest=8.0),
}
NOTE_PAUSES: Final = Pauses(start=0.09, end=2.0, longer=2.0, unit=2.0, settled=2.0, longest=60.0)
"""For a spoken note: free speech, with time to think."""

UNSEEN_SILENCE: Final = 0.3
"""At least so long must nobody have spoken, by the recogniser's word, where the room never falls silent."""


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

    def after(self, seconds: float, *, is_speech: bool) -> "Endpoint":
        """Once a block of that length has been heard; an ended utterance stays ended."""
        if self.phase is SpeechPhase.ENDED:
            return self
        if self.phase is SpeechPhase.WAITING:
            return self._while_waiting(seconds, is_speech=is_speech)
        silence = 0.0 if is_speech else self.silence + seconds
        length = self.length + seconds
        over = _reaches(silence, self.pauses.end) or _reaches(length, self.pauses.longest)
        phase = SpeechPhase.ENDED if over else SpeechPhase.SPEAKING
        return replace(self, phase=phase, silence=silence, length=length)

    def guessed(self, more: More, quiet_seconds: float = 0.0) -> "Endpoint":
        """With the recogniser's guess now: what may still come, and how long it has heard nobody."""
        if self.phase is not SpeechPhase.SPEAKING or more is More.UNKNOWN:
            return self
        enough = self.pauses.get_silence(more)
        over = _reaches(self.silence, enough) or _reaches(quiet_seconds, max(enough, UNSEEN_SILENCE))
        return replace(self, phase=SpeechPhase.ENDED) if over else self

    def _while_waiting(self, seconds: float, *, is_speech: bool) -> "Endpoint":
        speech = max(0.0, self.speech + (seconds if is_speech else -seconds))
        if _reaches(speech, self.pauses.start):
            return replace(self, phase=SpeechPhase.SPEAKING, speech=speech, length=speech)
        return replace(self, speech=speech)


def _reaches(seconds: float, limit: float) -> bool:
    """Compare sums of block lengths without tripping over the last bit."""
    return seconds >= limit - 1e-6
