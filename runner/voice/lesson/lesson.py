"""The twenty phrases that a person is asked to say for the ear to learn of them, and what is in force."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Final

from runner.language.catalogue import Unit
from runner.language.force import word_meanings
from runner.language.meaning import Meaning, Picked, Value
from runner.language.number import value_phrases
from runner.voice.lesson.trial import Trial
from runner.voice.port import Hearing

_ITEM: Final = "lesson"
_VOLTS: Final = (Unit.VOLTS, Decimal("0.1"), Decimal(18), Decimal(32))

_LAMP: Final = ("lit", "out", "both lit", "left out", "right out")
_NEEDLE: Final = ("alive", "dead", "needle moves", "needle stuck")
_PLUG: Final = ("unplugged", "still connected")
_SELECTOR: Final = ("reserve selected", "normal selected")
_GYROS: Final = ("attitude flag pulled", "compass flag pulled", "left attitude flag pulled", "flag stays")
"""Open clocks' phrases: in force all the while, as in a run."""


@dataclass(frozen=True, slots=True)
class Ask:
    """One phrase to be said while an item like those of a check waits."""

    phrase: str
    responses: tuple[str, ...] = ()
    """The item's own answers."""
    is_reading: bool = False
    """The item asks for volts."""
    is_answer: bool = True
    """Something that answers; otherwise it is not in force, and the ear should take nothing."""

    @property
    def phrases(self) -> tuple[str, ...]:
        """What is in force, for a recogniser."""
        return tuple(self._meanings)

    def is_right(self, guess: str | None) -> bool:
        """The guess means what was asked: "twenty four six" and "two four decimal six volts" are one."""
        meanings = self._meanings
        return self.is_answer and guess is not None and meanings.get(guess) == meanings[self.phrase]

    def trial(self, hearing: Hearing) -> Trial:
        """What an ear that takes every guess made of it."""
        return Trial(
            self.phrase, self.is_answer, hearing.text, self.is_right(hearing.text), hearing.confidence
        )

    @property
    def _meanings(self) -> Mapping[str, Meaning]:
        return _in_force(self.responses, is_reading=self.is_reading)


@cache
def _in_force(responses: tuple[str, ...], *, is_reading: bool) -> Mapping[str, Meaning]:
    """Standard words, the clocks' phrases and the item's answers, as `language.force` puts them together."""
    picked = {phrase: Picked(_ITEM, phrase) for phrase in (*_GYROS, *responses)}
    values = value_phrases(*_VOLTS) if is_reading else {}
    return {**word_meanings(), **picked, **{each: Value(_ITEM, number) for each, number in values.items()}}


def _volts(phrase: str) -> Ask:
    return Ask(phrase, is_reading=True)


def _other(phrase: str, responses: tuple[str, ...]) -> Ask:
    return Ask(phrase, responses, is_answer=False)


LESSON: Final = (
    Ask("affirm"),
    Ask("both lit", _LAMP),
    _volts("two four decimal six volts"),
    Ask("attitude flag pulled"),
    Ask("out", _LAMP),
    _other("the truck comes at noon", _PLUG),
    _volts("twenty five point one"),
    Ask("negative"),
    Ask("unplugged", _PLUG),
    Ask("say again", _NEEDLE),
    Ask("lit", _LAMP),
    _volts("twenty three nine"),
    Ask("compass flag pulled", _NEEDLE),
    _other("maybe", _LAMP),
    Ask("standby"),
    Ask("reserve selected", _SELECTOR),
    Ask("alive", _NEEDLE),
    _other("please close the window", _NEEDLE),
    _volts("two four decimal zero volts"),
    Ask("correction"),
)
"""Twenty: seventeen answers of the kinds that checks have, and three phrases that answer nothing."""
