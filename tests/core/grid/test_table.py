import pytest

from runner.core.event import Answered, Started
from runner.core.grid import table
from runner.core.grid.grid_cell import IGNORED, Cell, Relative
from runner.core.grid.grid_reply import Moment
from runner.core.grid.turn import Question, Turn
from runner.core.state import FINAL, State
from runner.language.catalogue import Word
from tests.core.grid.reach import event_types, grid, reachable_from, states_of
from tests.core.sample import begun


def test_each_state_has_a_cell_for_each_event() -> None:
    """The table is total: an event that is ignored says so."""
    assert {*table.EVENTS, Answered} == set(event_types())
    for row in table.EVENTS.values():
        assert set(row.cells) == set(State)


def test_each_state_says_what_it_does_with_each_word() -> None:
    """It listens for it and has a cell, or does what it does with every word that is not heard there."""
    assert set(table.WORDS) == set(Word)
    assert set(table.UNHEARD) == set(State)
    for state in State:
        unheard = [word for word, row in table.WORDS.items() if state not in row.cells]
        assert {*unheard, *table.WORDS_IN_FORCE[state]} == set(Word)


def test_a_cell_has_targets_exactly_when_it_does_something() -> None:
    """What is ignored leads nowhere."""
    every: list[Cell[object]] = [cell for row in table.EVENTS.values() for cell in row.cells.values()]
    every += [cell for row in table.WORDS.values() for cell in row.cells.values()]
    for cell in every:
        assert (cell.act is None) == (not cell.targets)
        assert (cell.act is None) == (cell == IGNORED)


def test_no_cell_names_a_target_twice() -> None:
    """The same is never written as the state's own name beside it, nor by chance in two ways."""
    for _, state, cell in grid():
        assert len(set(cell.targets)) == len(cell.targets)
        assert not (Relative.SAME in cell.targets and state in cell.targets)
        reached = [each for target in cell.targets for each in states_of(state, target)]
        if Relative.WHAT_WAS_ASKED not in cell.targets:
            assert len(set(reached)) == len(reached)


def test_a_hold_is_left_by_continue_to_what_was_asked() -> None:
    """And by nothing else that is said, but the wish to abandon."""
    assert table.WORDS[Word.CONTINUE].cells[State.HOLDING].targets == (Relative.WHAT_WAS_ASKED,)
    leaving = [
        word
        for word in table.WORDS_IN_FORCE[State.HOLDING]
        if table.WORDS[word].cells[State.HOLDING].targets != (Relative.SAME,)
    ]
    assert leaving == [Word.CONTINUE, Word.ABANDON]


def test_no_word_is_listened_for_in_a_note_and_squawk_it_only_at_a_stop() -> None:
    """What is said into a note is the note; a squawk of a stop needs a stop."""
    assert table.WORDS_IN_FORCE[State.NOTING] == ()
    assert set(table.WORDS[Word.SQUAWK].cells) == {State.STOPPED}
    assert set(table.WORDS_IN_FORCE[State.STOPPED]) == set(Word)


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
    targets = [target for _, state, cell in grid() for target in cell.targets if state is State.RESTORING]
    assert all(State.COMPLETE not in states_of(State.RESTORING, target) for target in targets)


def test_an_event_is_not_taken_by_another_row() -> None:
    """A row's act would look for what the event does not have."""
    moment = Moment(begun().machine.progress, State.ASKING, Turn(0, Question(State.ASKING, ""), ""), None, 0)
    with pytest.raises(TypeError, match="belongs into another row"):
        table.TICKED.step(moment, Started(1.0))
