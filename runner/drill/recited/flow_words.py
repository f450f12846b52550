"""The words of a flow: which item a line means, by its name, its challenge and the author's own phrases."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from rapidfuzz import fuzz

from runner.checklist.format.check import Check, Item
from runner.language.spelling import normalise

SURE: Final = 80.0
"""Of 100: from here on a line means an item by itself; ours."""
POSSIBLE: Final = 60.0
"""From here on it may mean it; ours."""
MARGIN: Final = 6.0
"""By so much the best must lead; ours."""
MOST_CANDIDATES: Final = 5
_BY_WORDS: Final = 0.7
"""Weight of the words that both have; the rest goes by all of both."""
OPPOSITES: Final = (
    ("on", "off"),
    ("left", "right"),
    ("up", "down"),
    ("in", "out"),
    ("first", "second"),
    ("one", "two"),
    ("before", "after"),
    ("open", "closed"),
)
"""A line that has the one never means a text that has the other alone."""
_CLAUSES: Final = re.compile(r"[,;:.?]")


@dataclass(frozen=True, slots=True)
class SaidLine:
    """One line of a recitation as it was understood."""

    text: str
    candidates: tuple[str, ...]
    """Items that it may mean, the likeliest first; one when it is clear, none when it is like nothing."""
    is_doubtful: bool
    """It may have been said or heard otherwise, and is shown before it is judged."""


class FlowWords:
    """The words of one check."""

    def __init__(self, check: Check) -> None:
        self._texts = {item.name: _texts_of(item) for item in check.items}

    def understand(self, text: str, *, is_heard: bool = False) -> SaidLine:
        """Which item a line means. What was heard and is like nothing may have been anything."""
        line = normalise(text)
        exact = tuple(name for name, texts in self._texts.items() if line in texts)
        if len(exact) == 1:
            return SaidLine(text, exact, is_doubtful=False)
        ranked = [*dict.fromkeys((*exact, *self._ranked(line)))]
        if exact or not self._is_clear(line, ranked):
            return SaidLine(text, tuple(ranked[:MOST_CANDIDATES]), is_doubtful=bool(ranked) or is_heard)
        return SaidLine(text, (ranked[0],), is_doubtful=False)

    def phrases(self) -> tuple[str, ...]:
        """Everything by which an item is meant."""
        return tuple(dict.fromkeys(text for texts in self._texts.values() for text in texts))

    def _ranked(self, line: str) -> list[str]:
        scores = {name: self._score(line, name) for name in self._texts}
        possible = [name for name, score in scores.items() if score >= POSSIBLE]
        return sorted(possible, key=lambda name: -scores[name])

    def _is_clear(self, line: str, ranked: list[str]) -> bool:
        if not ranked:
            return False
        best, *others = (self._score(line, name) for name in ranked[:2])
        is_ahead = best >= SURE and all(best - each >= MARGIN for each in others)
        return is_ahead and any(_has_words(text, line) for text in self._texts[ranked[0]])

    def _score(self, line: str, name: str) -> float:
        return max((likeness_of_words(line, text) for text in self._texts[name]), default=0.0)


def likeness_of_words(line: str, text: str) -> float:
    """From 0 to 100; 0 where they say opposite things."""
    words, others = frozenset(line.split()), frozenset(text.split())
    for pair in OPPOSITES:
        for one, other in (pair, pair[::-1]):
            if one in words and other in others and one not in others and other not in words:
                return 0.0
    shared, whole = fuzz.token_set_ratio(line, text), fuzz.token_sort_ratio(line, text)
    return _BY_WORDS * shared + (1 - _BY_WORDS) * whole


def _has_words(text: str, line: str) -> bool:
    """Whether each word of the line is one of the text, or nearly."""
    return all(any(fuzz.ratio(word, other) >= SURE for other in text.split()) for word in line.split())


def _texts_of(item: Item) -> frozenset[str]:
    return frozenset(filter(None, map(normalise, _written(item))))


def _written(item: Item) -> Iterator[str]:
    """Its name, its challenge, what of that stands before a comma, and the author's phrases with both."""
    clause = _CLAUSES.split(item.challenge)[0]
    yield from (item.name, item.challenge, clause)
    for response in item.responses:
        for phrase in response.phrases:
            yield phrase
            yield f"{item.name} {phrase}"
            yield f"{clause} {phrase}"
