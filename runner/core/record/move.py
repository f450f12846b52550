"""Moves: what items take out of its place on the airplane, and which later item asks it back."""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

from runner.checklist.format.check import Item
from runner.checklist.format.mark import SELECTOR
from runner.core.plan import Plan


@dataclass(frozen=True, slots=True)
class Move:
    """One thing out of its place from the moment that its item was asked: it may have been moved then."""

    switch: str
    item: str
    """The item that moves it."""
    back: str
    """The item that asks it back."""
    returned_by: str = ""
    """The item whose answer returned it; empty while it is out of its place."""


def moves_of(plan: Plan, item: Item) -> Iterator[Move]:
    """What asking this item moves. What nothing in the check returns cannot be asked back and is left out."""
    for switch in dict.fromkeys(_switches_moved(plan, item)):
        back = _returning_item(plan, item, switch)
        if back is not None:
            yield Move(switch, item.name, back.name)


def switches_returned(item: Item) -> tuple[str, ...]:
    """What an answer to this item puts back."""
    return (*item.returns, SELECTOR) if item.restores else item.returns


def _switches_moved(plan: Plan, item: Item) -> Iterator[str]:
    yield from item.moves
    if item.body.selects not in (None, plan.normal_position):
        yield SELECTOR


def _returning_item(plan: Plan, mover: Item, switch: str) -> Item | None:
    """The next item of the check that returns it; one above the mover only where none follows."""
    check = plan.check
    numbers = check.restoring if switch == SELECTOR else check.returning(switch)
    if not numbers:
        return None
    following = bisect_right(numbers, check.number(mover.name))
    return check.items[numbers[following % len(numbers)]]
