"""The transition table drawn as Markdown, and the questions that a drawing cannot answer: what can be reached."""

from collections.abc import Iterable
from typing import get_args

from runner.core.event import Event
from runner.core.state import State
from runner.core.table import TRANSITIONS, Row


def render_table() -> str:
    """A Markdown table for DEVELOPERS.md: one line for each state and event that is not ignored."""
    lines = ["| state | event | what is done | leads to |", "|---|---|---|---|"]
    for state, rows in TRANSITIONS.items():
        lines += [_line(state, event, row) for event, row in rows.items() if row.action is not None]
        ignored = [event.__name__ for event, row in rows.items() if row.action is None]
        if ignored:
            lines.append(f"| {state} | {', '.join(ignored)} | ignored | {state} |")
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


def _line(state: State, event: type[Event], row: Row) -> str:
    action = getattr(row.action, "__name__", "").replace("_", " ")
    leads_to = ", ".join(target for target in State if target in row.targets)
    return f"| {state} | {event.__name__} | {action} | {leads_to} |"
