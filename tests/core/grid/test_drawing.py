from runner.core.event import Answered, Started
from runner.core.grid.drawing import render_table
from runner.core.grid.table import TRANSITIONS
from runner.core.state import State
from tests.core.grid.reach import event_types, reachable_from, targets_of


def test_the_drawing_has_each_state_and_event_once() -> None:
    """Rows that are alike share a line."""
    lines = [line.split("|")[1:5] for line in render_table().splitlines()[2:]]
    drawn = [(state.strip(), event.strip()) for state, events, _, _ in lines for event in events.split(",")]
    assert sorted(drawn) == sorted((state, event.__name__) for state in State for event in event_types())


def test_the_drawing_tells_what_the_table_does() -> None:
    """Each line's targets are the row's."""
    names = {event.__name__: event for event in event_types()}
    for line in render_table().splitlines()[2:]:
        state, events, action, targets = (cell.strip() for cell in line.split("|")[1:5])
        for event in events.split(", "):
            row = TRANSITIONS[State(state)][names[event]]
            assert set(filter(None, targets.split(", "))) == row.targets
            assert (action == "ignored") == (row.action is None)


def test_the_first_line_is_the_start() -> None:
    """Read from the top, a run begins."""
    assert render_table().splitlines()[2] == "| ready | Started | start | briefing |"


def test_targets_and_reach() -> None:
    """Final states lead to themselves only."""
    assert targets_of(State.COMPLETE) == {State.COMPLETE}
    assert reachable_from([State.ABANDONED]) == {State.ABANDONED}
    assert {Answered, Started} <= set(event_types())
