from runner.core.event import Answered, Started
from runner.core.grid.drawing import LASTING, render_table
from runner.core.grid.table import WORDS
from runner.core.state import State
from runner.language.catalogue import Word
from tests.core.grid.reach import event_types, grid, reachable_from, targets_of

LINES = [[cell.strip() for cell in line.split("|")[1:5]] for line in render_table().splitlines()[2:]]


def test_the_drawing_has_each_state_and_event_once() -> None:
    """Cells that are alike share a line."""
    kinds = {event.__name__ for event in event_types()} - {Answered.__name__}
    drawn = [
        (state, event) for events, states, _, _ in LINES for event in events.split(", ") if event in kinds
        for state in states.split(", ")
    ]  # fmt: skip
    assert sorted(drawn) == sorted((str(state), kind) for state in State for kind in kinds)


def test_the_drawing_has_each_word_in_each_state_that_listens_for_it_once() -> None:
    """No more and no fewer; what counts for the turn before as well is marked."""
    drawn = [(name.rstrip(LASTING), state) for name, states, _, _ in LINES for state in states.split(", ")]
    for word, row in WORDS.items():
        assert sorted(state for name, state in drawn if name == f'"{word}"') == sorted(row.cells)
        assert all(name.endswith(LASTING) is row.is_lasting for name, *_ in LINES if f'"{word}"' in name)


def test_the_drawing_tells_what_the_table_does() -> None:
    """Each line's targets are the cell's."""
    names = {f'"{word}"': word.value for word in Word}
    cells = {(name, str(state)): cell for name, state, cell in grid()}
    told = 0
    for happening, states, act, targets in LINES:
        for name in happening.rstrip(LASTING).split(", "):
            for state in states.split(", "):
                cell = cells.get((names.get(name, name), state))
                if cell is not None:
                    told += 1
                    assert targets == ", ".join(cell.targets)
                    assert act != "ignored"
    others = {"Picked", "Value", "Pulled", "Stuck", "Corrected"}
    assert told == sum(name not in others for name, _, _ in grid())


def test_the_drawing_reads_as_plain_text() -> None:
    """Its columns stand under one another, and a reader sees where a word leads."""
    text = render_table()
    assert len({len(line) for line in text.splitlines()}) == 1
    assert ['"continue"', "holding", "release", "what was asked"] in LINES
    assert ["Started", "ready", "start", "briefing"] in LINES


def test_targets_and_reach() -> None:
    """Final states lead to themselves only."""
    assert targets_of(State.COMPLETE) == {State.COMPLETE}
    assert reachable_from([State.ABANDONED]) == {State.ABANDONED}
    assert {Answered, Started} <= set(event_types())
