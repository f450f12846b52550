"""A question of a quiz: what is asked of which situation, several answers, and the one that is right."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

import numpy as np

MOST_CHOICES: Final = 4


class QuizTopic(StrEnum):
    """What a question is about."""

    BUS = "bus"
    """Which bus feeds a load."""
    ALIVE = "alive"
    """What lives."""
    DEAD = "dead"
    """What is dead."""
    PART = "part"
    """What works only in part."""
    LOSS = "loss"
    """What dies when a breaker opens."""
    CAUSE = "cause"
    """Which breaker, opened, kills a load."""
    WAY = "way"
    """By which way the current comes."""
    READS = "reads"
    """Which seat can still read something."""
    SEAT = "seat"
    """Which seat keeps the fuller set."""
    MINUTES = "minutes"
    """How long the battery lasts."""


@dataclass(frozen=True, slots=True)
class QuizDraft:
    """A question with every wrong answer that it could be given, the most plausible first."""

    topic: QuizTopic
    about: str
    """The load, breaker or sense that is asked about; the position alone where there is none."""
    position: str
    """Of the selector, on the battery alone."""
    text: str
    right: str
    wrong: tuple[str, ...]
    why: str
    """Told after the answer."""
    is_critical: bool = False
    is_ordered: bool = False
    """The answers keep the order of their words: left, right, both, neither."""


@dataclass(frozen=True, slots=True)
class QuizQuestion:
    """A question as it is asked."""

    topic: QuizTopic
    about: str
    position: str
    text: str
    choices: tuple[str, ...]
    right: int
    """Number of the right choice, from 0; every other one is wrong."""
    why: str
    is_critical: bool

    @property
    def subject(self) -> str:
        """By which a student's memory of it is kept: `bus: flood lamps`."""
        return f"{self.topic}: {self.about}"


Drafts = Callable[[], Iterator[QuizDraft]]
"""All questions of one topic; worked out when they are wanted."""


def question_from(draft: QuizDraft, rng: np.random.Generator) -> QuizQuestion:
    """Three of the most plausible wrong answers beside the right one, in an order by chance."""
    several = draft.wrong[: 2 * MOST_CHOICES]
    count = min(MOST_CHOICES - 1, len(several))
    wrong = [several[number] for number in sorted(rng.choice(len(several), count, replace=False))]
    choices = [draft.right, *wrong]
    order = np.argsort(choices) if draft.is_ordered else rng.permutation(len(choices))
    shown = tuple(choices[number] for number in order)
    return QuizQuestion(
        draft.topic,
        draft.about,
        draft.position,
        draft.text,
        shown,
        shown.index(draft.right),
        draft.why,
        draft.is_critical,
    )


def nearest_first(right: str, others: Sequence[str], order: Sequence[str]) -> tuple[str, ...]:
    """Others by how near they stand to the right one in an order: neighbours are easily taken for it."""
    ranks = {name: rank for rank, name in enumerate(order)}
    home = ranks.get(right, len(order))
    return tuple(
        sorted(dict.fromkeys(others), key=lambda name: (abs(ranks.get(name, len(order)) - home), name))
    )
