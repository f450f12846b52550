"""Clashes: phrases of a check that mean two things at the same time, or that sound too much alike."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations, product

from runner.checklist.format.check import Check, Item
from runner.checklist.kind.item_phrases import answer_meanings, endings
from runner.language.force import contradiction, describe, may_take, word_meanings
from runner.language.likeness import TOO_ALIKE, Pronunciations, likeness
from runner.language.meaning import Command, Meaning, Picked


@dataclass(frozen=True, slots=True)
class ClashLine:
    """A phrase with its meaning."""

    phrase: str
    meaning: Meaning


@dataclass(frozen=True, slots=True)
class Clash:
    """Two phrases that may be in force together and should not be."""

    item: str
    """Name of the item whose phrase should be reworded."""
    phrase: str
    meaning: Meaning
    other_phrase: str
    other: Meaning
    likeness: float
    """1 for one and the same phrase, else how alike the two sound (TOO_ALIKE to 1)."""

    @property
    def is_same(self) -> bool:
        """One phrase with two meanings, which no run could tell apart: an error, not a warning."""
        return self.phrase == self.other_phrase

    @property
    def message(self) -> str:
        """What is wrong and what to do."""
        if self.is_same:
            return contradiction(self.phrase, self.meaning, self.other)
        return (
            f'"{self.phrase}" sounds much like "{self.other_phrase}", {describe(self.other)} '
            f"({self.likeness:.0%} alike); use words that differ more"
        )


def clashes(check: Check, pronunciations: Pronunciations | None = None) -> tuple[Clash, ...]:
    """Every clash of a check.

    An item's answers, any spin-up's phrases and the standard words are in force together: any clock
    may be open at any item, since items can be put off or reopened. Sound is judged only where
    pronunciations are given (an empty mapping judges by letters). ValueError for a phrase without
    words and for a reading with too many values.
    """
    return tuple(
        dict.fromkeys(
            clash
            for item, line, other in _pairs(check)
            if (clash := _judge(item, line, other, pronunciations)) is not None
        )
    )


def _pairs(check: Check) -> Iterator[tuple[Item, ClashLine, ClashLine]]:
    """All that may be in force together, each with the item to blame."""
    words = [ClashLine(phrase, meaning) for phrase, meaning in word_meanings().items()]
    clocks = [(item, line) for item, _ in check.clocks() for line in _clock_lines(item)]
    for (_, line), (item, later) in combinations(clocks, 2):
        yield item, later, line
    for (item, line), word in product(clocks, words):
        yield item, line, word
    always = [*words, *(line for _, line in clocks)]
    for item in check.items:
        own = _answer_lines(item, always)
        for line, later in combinations(own, 2):
            yield item, later, line
        for line, other in product(own, always):
            yield item, line, other


def _clock_lines(item: Item) -> list[ClashLine]:
    tables = (endings(item, is_stuck=is_stuck) for is_stuck in (False, True))
    return [ClashLine(phrase, meaning) for table in tables for phrase, meaning in table.items()]


def _answer_lines(item: Item, always: Iterable[ClashLine]) -> list[ClashLine]:
    """The item's phrases; of a number's thousands only those that are in force for something else too."""
    if item.body.number is None:
        return [ClashLine(phrase, meaning) for phrase, meaning in item.body.sayings(item.name)]
    table = answer_meanings(item)
    taken = dict.fromkeys(line.phrase for line in always if line.phrase in table)
    return [ClashLine(phrase, table[phrase]) for phrase in taken]


def _judge(
    item: Item, line: ClashLine, other: ClashLine, pronunciations: Pronunciations | None
) -> Clash | None:
    if line.meaning == other.meaning or _takes(line, other):
        return None
    alike = float(line.phrase == other.phrase)
    if not alike and pronunciations is not None:
        alike = likeness(line.phrase, other.phrase, pronunciations)
    if alike < TOO_ALIKE:
        return None
    return Clash(item.name, line.phrase, line.meaning, other.phrase, other.meaning, alike)


def _takes(line: ClashLine, other: ClashLine) -> bool:
    """Whether an answer rightly has the phrase of a standard word that yields to it."""
    return (
        isinstance(line.meaning, Picked)
        and isinstance(other.meaning, Command)
        and may_take(other.meaning)
        and line.phrase in other.meaning.word.phrases
    )
