"""Forgetting: when something is due again, and how much of it is still there; the one user of fsrs.

FSRS-6, the free spaced repetition scheduler, with its published parameters, which stand for many people and
not for this one. Nobody says how hard a right answer was: the range runs from all hard to all easy.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

from fsrs import Card, Rating, Scheduler

from runner.drill.due.practice import Practice, PracticeGrade

RECALL_PERCENT: Final = 90
"""The share that should come when it is asked for again: fsrs's own default."""
RECALL_BOUNDS: Final = (70, 97)
"""What may be asked for: under it a card is hardly kept, over it every day is a review; ours."""
_READINGS: Final = (Rating.Hard, Rating.Good, Rating.Easy)
"""What a right answer may have been."""


@dataclass(frozen=True, slots=True)
class Memory:
    """What is left of one thing."""

    last_at: float
    """When it was practised last, seconds since the epoch."""
    last: PracticeGrade
    times: int
    due_at: float
    """When it should be asked again, if every right answer was good; seconds since the epoch."""
    low: float
    """The chance that it comes now, 0 to 1, if every right answer was hard."""
    high: float
    """And if every one was easy."""


def memory_of(practised: Sequence[Practice], now: float, recall_percent: int = RECALL_PERCENT) -> Memory:
    """What is left at `now` of a thing by all the times that it was practised, the oldest first."""
    scheduler = Scheduler(
        desired_retention=recall_percent / 100,
        learning_steps=(),  # nobody comes back within minutes: every sitting counts in days
        relearning_steps=(),
        enable_fuzzing=False,
    )
    cards = {reading: _card(scheduler, practised, reading) for reading in _READINGS}
    at = datetime.fromtimestamp(now, UTC)
    left = [scheduler.get_card_retrievability(card, at) for card in cards.values()]
    return Memory(
        practised[-1].at,
        practised[-1].grade,
        len(practised),
        cards[Rating.Good].due.timestamp(),
        min(left),
        max(left),
    )


def _card(scheduler: Scheduler, practised: Sequence[Practice], right: Rating) -> Card:
    """The card after every review, when a right answer was as hard as that."""
    ratings = {PracticeGrade.RIGHT: right, PracticeGrade.SLOW: Rating.Hard, PracticeGrade.WRONG: Rating.Again}
    begun = datetime.fromtimestamp(practised[0].at, UTC)
    card = Card(card_id=0, due=begun)
    for each in practised:
        card, _ = scheduler.review_card(card, ratings[each.grade], datetime.fromtimestamp(each.at, UTC))
    return card
