"""The words that are always in force: how each may be said, whose word it is, and what it does in a run."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from runner.language.meaning import Word


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


@dataclass(frozen=True, slots=True)
class Standard:
    """A word that may always be said."""

    sayings: tuple[Saying, ...]
    """The first one is the word's own."""
    effect: str
    """What it does in a run, in one line."""


def _icao(phrase: str, effect: str, *others: Saying) -> Standard:
    return Standard((Saying(phrase, Origin.ICAO), *others), effect)


def _ours(phrase: str, effect: str, *others: Saying) -> Standard:
    return Standard((Saying(phrase, Origin.OURS), *others), effect)


# "correct" is ICAO's too, but only half a syllable away from "correction", which means the opposite.
STANDARD: Final[Mapping[Word, Standard]] = MappingProxyType(
    {
        Word.SAY_AGAIN: _icao("say again", "repeats what was said last"),
        Word.STANDBY: _icao("standby", "holds the check", Saying("hold checklist", Origin.FSF)),
        Word.CONTINUE: _ours(
            "continue",
            "goes on after a hold, with the last completed item first",
            Saying("continue checklist", Origin.FSF),
            Saying("resume checklist", Origin.FSF),
        ),
        Word.CORRECTION: _icao("correction", "reopens the last answer"),
        Word.DISREGARD: _icao("disregard", "drops what was just said"),
        Word.NEGATIVE: _icao("negative", "no; that is not correct"),
        Word.AFFIRM: _icao("affirm", "yes", Saying("affirmative", Origin.FAA)),
        Word.CONFIRM: _icao("confirm", "repeats what was received last and takes nothing"),
        Word.UNABLE: _icao("unable", "declares that the item cannot be done"),
        Word.READ_BACK: _icao("read back", "repeats the last answer as it was recorded"),
        Word.ROGER: _icao("roger", "answers nothing", Saying("wilco", Origin.ICAO)),
        Word.WHY: _ours("why", "gives the reason of the item"),
        Word.NOTE: _ours("note", "records what is said next as a sound clip"),
        Word.PUT_OFF: _ours("put off", "asks the item again later"),
        Word.ABANDON: _ours("abandon check", "ends the check early, after what was moved is returned"),
        Word.SQUAWK: _ours("squawk it", "writes the stop that stands down as a squawk"),
        Word.SPEAK_SLOWER: _icao("speak slower", "says all at the pace of a read-back from now on"),
        Word.WORDS_TWICE: _icao("words twice", "says each question twice from now on"),
    }
)
"""Every Word, in the order in which they are shown."""

YIELDING: Final = frozenset({Word.AFFIRM, Word.NEGATIVE})
"""Yes and no: an item may have them as its own answers, which then win."""


def word_phrases(word: Word) -> tuple[str, ...]:
    """Every way to say the word, the word's own first."""
    return tuple(saying.phrase for saying in STANDARD[word].sayings)
