"""The catalogue: of everything that comes in a closed set, what is stored, said and shown, a row for each."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Final, Self


class Origin(StrEnum):
    """Where a phrase is laid down."""

    ICAO = "ICAO Annex 10 Vol II 5.2.1.5.8"
    FAA = "FAA Pilot/Controller Glossary"
    FSF = "FSF ALAR Briefing Note 1.5"
    OURS = "eyesout"


@dataclass(frozen=True, slots=True)
class Saying:
    """One way to say a standard word."""

    phrase: str
    origin: Origin


_GO_ON: Final = (Saying("continue checklist", Origin.FSF), Saying("resume checklist", Origin.FSF))


class Word(StrEnum):
    """Standard words: what is said and shown, its key, whose word it is, what it does in a run, other ways.

    Capital letters are their keys, so that they clash with no item's small letter. What a word does in which
    state is its row of `core/grid/table.py`. "correct" is ICAO's too, but only half a syllable away from
    "correction", which means the opposite.
    """

    STANDBY = "standby", "S", Origin.ICAO, "holds the check", Saying("hold checklist", Origin.FSF)
    CONTINUE = "continue", "C", Origin.OURS, "goes on after a hold, the last completed item first", *_GO_ON
    SAY_AGAIN = "say again", "G", Origin.ICAO, "repeats what was said last"
    READ_BACK = "read back", "B", Origin.ICAO, "repeats the last answer as it was recorded"
    CORRECTION = (
        "correction",
        "R",
        Origin.ICAO,
        "reopens the last answer; the new one may follow at once",
    )
    DISREGARD = "disregard", "D", Origin.ICAO, "drops what was just said"
    AFFIRM = "affirm", "A", Origin.ICAO, "yes", Saying("affirmative", Origin.FAA)
    NEGATIVE = "negative", "N", Origin.ICAO, "no; that is not correct"
    CONFIRM = "confirm", "F", Origin.ICAO, "repeats what was received last and takes nothing"
    UNABLE = "unable", "U", Origin.ICAO, "declares that the item cannot be done"
    PUT_OFF = "put off", "P", Origin.OURS, "asks the item again later"
    WHY = "why", "W", Origin.OURS, "gives the reason of the item"
    NOTE = "note", "T", Origin.OURS, "records what is said next as a sound clip"
    ABANDON = "abandon check", "Q", Origin.OURS, "ends the check early, after what was moved is returned"
    SQUAWK = "squawk it", "K", Origin.OURS, "writes the stop that stands down as a squawk"
    SPEAK_SLOWER = "speak slower", "L", Origin.ICAO, "says all at the pace of a read-back from now on"
    WORDS_TWICE = "words twice", "E", Origin.ICAO, "says each question twice from now on"
    ROGER = "roger", "", Origin.ICAO, "answers nothing", Saying("wilco", Origin.ICAO)
    """Heard so that it can be refused: it never answers an item, and needs no key."""

    _value_: str
    key: str
    """The key on the screen; empty for none."""
    effect: str
    """What it does in a run, in one line."""
    sayings: tuple[Saying, ...]
    """The first one is the word's own."""

    def __new__(cls, said: str, key: str, origin: Origin, effect: str, *others: Saying) -> Self:
        """A row."""
        word = str.__new__(cls, said)
        word._value_ = said
        word.key, word.effect, word.sayings = key, effect, (Saying(said, origin), *others)
        return word

    @property
    def phrases(self) -> tuple[str, ...]:
        """Every way to say the word, the word's own first."""
        return tuple(saying.phrase for saying in self.sayings)


YIELDING: Final = frozenset({Word.AFFIRM, Word.NEGATIVE})
"""Yes and no: an item may have them as its own answers, which then win."""


class Noun(StrEnum):
    """What is counted; none of it and more than one take an s."""

    SQUAWK = "squawk"
    CAUTION = "caution"
    STOP = "stop"
    ITEM = "item"
    CORRECTION = "correction"
    RUN = "run"

    def of(self, count: int) -> str:
        """The form that goes with so many."""
        return self.value if count == 1 else f"{self.value}s"


class Unit(StrEnum):
    """What a number counts: many and one as stored, said and shown, and what gauges usually show (ours)."""

    VOLTS = "volts", "volt", 10, 32
    AMPS = "amps", "amp", 0, 100
    SECONDS = "seconds", "second", 0, 300
    DEGREES = "degrees", "degree", 0, 360
    PERCENT = "percent", "percent", 0, 100

    _value_: str
    singular: str
    low: Decimal
    high: Decimal

    def __new__(cls, plural: str, singular: str = "", low: int = 0, high: int = 0) -> Self:
        """A row."""
        unit = str.__new__(cls, plural)
        unit._value_, unit.singular, unit.low, unit.high = plural, singular, Decimal(low), Decimal(high)
        return unit


class Outcome(StrEnum):
    """What an answer means for the airplane: as stored and said, and how a list marks it."""

    PASS = "pass"  # noqa: S105 - a grade, no password
    CAUTION = "caution"
    SQUAWK = "squawk"
    STOP = "stop"
    """Danger: the run stays at the item until it is remedied; it raises no squawk by itself."""

    @property
    def mark(self) -> str:
        """As a list shows it, where an eye must find it; empty for what passes."""
        return "" if self is Outcome.PASS else self.value.upper()


class FlagEnd(StrEnum):
    """What became of a gyro's flag, as it is stored and shown; said by the phrases of the check."""

    PULLED = "flag pulled"
    STUCK = "flag stuck"

    @classmethod
    def of(cls, *, is_pulled: bool) -> Self:
        """Which of the two."""
        return cls.PULLED if is_pulled else cls.STUCK

    @classmethod
    def told_by(cls, answer: str) -> Self | None:
        """The one that a stored answer tells; None where it is another answer."""
        return next((end for end in cls if end.value == answer), None)


SPOKEN_ADVISORY: Final = "The flight manual and the pilot in command decide."
"""Stands at the end of every run."""
SHOWN_ADVISORY: Final = "Advisory only: the flight manual and the pilot in command decide."
"""Stands at the foot of every screen."""
SHORT_ADVISORY: Final = "Advisory: flight manual and pilot in command decide."
"""Where there is no room for the whole of it."""
DRAWN_ADVISORY: Final = "The approved flight manual, the placards and the pilot in command decide."
"""Stands under every diagram."""
STANDING_CAUTION: Final = (
    "Advisory only, for use on the ground: the approved flight manual, the placards and the pilot in "
    "command decide; local rules and licensed maintenance govern repairs and deferrals."
)
"""Stands under every report and every run."""
