"""The transition table drawn as Markdown, and what a drawing cannot tell: which states can be reached."""

from collections.abc import Iterable
from typing import get_args

from runner.core.event import Event
from runner.core.grid.table import TRANSITIONS, Row
from runner.core.state import State


def render_table() -> str:
    """A Markdown table for DEVELOPERS.md: a line for each row, with all events of the state that have it."""
    lines = ["| state | event | what is done | leads to |", "|---|---|---|---|"]
    for state, rows in TRANSITIONS.items():
        for row in dict.fromkeys(rows.values()):
            events = [event.__name__ for event, other in rows.items() if other == row]
            lines.append(_line(state, events, row))
    return "\n".join(lines) + "\n"


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


def _line(state: State, events: Iterable[str], row: Row) -> str:
    action = "ignored" if row.action is None else getattr(row.action, "__name__", "").replace("_", " ")
    leads_to = ", ".join(target for target in State if target in row.targets)
    return f"| {state} | {', '.join(events)} | {action} | {leads_to} |"
