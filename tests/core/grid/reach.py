"""What the table of transitions can come to."""

from collections.abc import Iterable
from typing import get_args

from runner.core.event import Event
from runner.core.grid.table import TRANSITIONS
from runner.core.state import State


def targets_of(state: State) -> frozenset[State]:
    """States that one event may lead to."""
    return frozenset().union(*(row.targets for row in TRANSITIONS[state].values()))


def reachable_from(states: Iterable[State]) -> frozenset[State]:
    """All states that some run of events leads to from these, themselves included."""
    found: set[State] = set()
    ahead = set(states)
    while ahead:
        found |= ahead
        ahead = {target for state in ahead for target in targets_of(state)} - found
    return frozenset(found)


def event_types() -> tuple[type[Event], ...]:
    """Every type of event that the machine takes."""
    return get_args(Event)
