import pytest

from runner.core.grid.table import TRANSITIONS
from runner.core.state import FINAL, State
from tests.core.grid.reach import event_types, reachable_from


def test_each_state_has_a_row_for_each_event() -> None:
    """The table is total: an event that is ignored says so."""
    assert set(TRANSITIONS) == set(State)
    for rows in TRANSITIONS.values():
        assert set(rows) == set(event_types())


def test_a_row_has_targets_exactly_when_it_does_something() -> None:
    """An ignored event leads nowhere."""
    for rows in TRANSITIONS.values():
        for row in rows.values():
            assert (row.action is None) == (not row.targets)


def test_every_state_is_reachable() -> None:
    """From a run that is about to start."""
    assert reachable_from([State.READY]) == set(State)


@pytest.mark.parametrize("state", State)
def test_every_state_has_a_path_to_a_final_one(state: State) -> None:
    """There are no traps; short of a final state both endings can still be reached."""
    reached = reachable_from([state])
    if state in FINAL:
        assert reached == {state}
    elif state is State.RESTORING:
        assert State.ABANDONED in reached
    else:
        assert reached >= FINAL


def test_an_abandoned_check_cannot_be_completed_any_more() -> None:
    """Restoration leads to the abandonment by way of holds and notes; both serve all states in the table."""
    answered = TRANSITIONS[State.RESTORING]
    assert all(State.COMPLETE not in row.targets for row in answered.values())
