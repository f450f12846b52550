"""The transition table drawn as Markdown, and what a drawing cannot tell: which states can be reached."""

from collections.abc import Iterable

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


def _line(state: State, events: Iterable[str], row: Row) -> str:
    action = "ignored" if row.action is None else getattr(row.action, "__name__", "").replace("_", " ")
    leads_to = ", ".join(target for target in State if target in row.targets)
    return f"| {state} | {', '.join(events)} | {action} | {leads_to} |"
