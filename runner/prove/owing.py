"""What a run owes: switches out of their place and not asked back since, and dangers not remedied.

Kept by what was asked and what was answered alone, so that it can contradict the machine's own account.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from runner.checklist.format.check import Item
from runner.checklist.format.mark import SELECTOR
from runner.core.ask.agenda import item_in_force, state_of
from runner.core.plan import Plan
from runner.core.record.entry import AnswerRecorded, Entry, Reopened, Stopped, StopWithdrawn
from runner.core.record.progress import Progress
from runner.core.state import State

ASKS_AN_ITEM = frozenset({State.ASKING, State.RESTORING})


@dataclass(frozen=True, slots=True)
class Owing:
    """Switches that were moved: asked is as good as moved, since the pilot may have thrown them."""

    out: frozenset[str] = frozenset()
    """Out of place, and what returns them was not answered since."""
    touched: frozenset[str] = frozenset()
    """Ever moved in this run."""
    dangers: frozenset[str] = frozenset()
    """Items that were answered with a danger, and neither answered otherwise nor taken back since."""

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
            out = self.out - returned_by(plan.check.item(entry.item))
            return replace(self, out=out, dangers=self.dangers - {entry.item})
        if isinstance(entry, Reopened):
            back = returned_by(plan.check.item(entry.item)) & self.touched
            return replace(self, out=self.out | back)
        if isinstance(entry, Stopped):
            return replace(self, dangers=self.dangers | {entry.item})
        if isinstance(entry, StopWithdrawn):
            return replace(self, dangers=self.dangers - {entry.item})
        return self

    def with_moved(self, switches: frozenset[str]) -> Owing:
        """These were moved just now."""
        if switches <= self.out:
            return self
        return replace(self, out=self.out | switches, touched=self.touched | switches)


def moved_by(plan: Plan, item: Item) -> frozenset[str]:
    """What the item takes out of its place; the selector counts when it goes anywhere but to normal."""
    is_away = item.body.selects not in (None, plan.normal_position)
    return frozenset((*item.moves, SELECTOR) if is_away else item.moves)


def returned_by(item: Item) -> frozenset[str]:
    """What the item puts back."""
    return frozenset((*item.returns, SELECTOR) if item.restores else item.returns)
