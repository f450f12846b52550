"""What a run owes the airplane: switches out of their place and not asked back since.

Kept by what was asked and what was answered alone, so that it can contradict the machine's own account.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from runner.checklist.format.check import Item
from runner.core.ask.agenda import item_in_force, state_of
from runner.core.plan import Plan
from runner.core.record.entry import AnswerRecorded, Entry, Reopened
from runner.core.record.progress import Progress
from runner.core.state import State

SELECTOR = "selector"
ASKS_AN_ITEM = frozenset({State.ASKING, State.RESTORING})


@dataclass(frozen=True, slots=True)
class Owing:
    """Switches that were moved: asked is as good as moved, since the pilot may have thrown them."""

    out: frozenset[str] = frozenset()
    """Out of place, and what returns them was not answered since."""
    touched: frozenset[str] = frozenset()
    """Ever moved in this run."""

    def after(self, plan: Plan, entries: Iterable[Entry], progress: Progress) -> Owing:
        """After these entries, with the item that is asked in the progress they lead to."""
        owing = self
        for entry in entries:
            owing = owing.with_entry(plan, entry)
        item = item_in_force(progress) if state_of(progress) in ASKS_AN_ITEM else None
        return owing if item is None else owing.with_moved(moved_by(plan, item))

    def with_entry(self, plan: Plan, entry: Entry) -> Owing:
        """An answer of whatever outcome shows that the return was asked; a correction takes that back."""
        if isinstance(entry, AnswerRecorded):
            return Owing(self.out - returned_by(plan.check.item(entry.item)), self.touched)
        if isinstance(entry, Reopened):
            back = returned_by(plan.check.item(entry.item)) & self.touched
            return Owing(self.out | back, self.touched)
        return self

    def with_moved(self, switches: frozenset[str]) -> Owing:
        """These were moved just now."""
        return Owing(self.out | switches, self.touched | switches) if switches - self.out else self


def moved_by(plan: Plan, item: Item) -> frozenset[str]:
    """What the item takes out of its place; the selector counts when it goes anywhere but to normal."""
    is_away = item.body.selects not in (None, plan.normal_position)
    return frozenset((*item.moves, SELECTOR) if is_away else item.moves)


def returned_by(item: Item) -> frozenset[str]:
    """What the item puts back."""
    return frozenset((*item.returns, SELECTOR) if item.restores else item.returns)
