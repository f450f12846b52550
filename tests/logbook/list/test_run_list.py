from pathlib import Path

import pytest

from runner.core.record.answer_history import RunState
from runner.errors import RecordError
from runner.logbook.list.run_list import find_run, registrations_of, runs, unfinished
from runner.logbook.record.run_store import Logbook
from tests.logbook.sample import STARTED_AT, new_run, whole_run, write_run

DAY = 86_400


def test_runs_come_newest_first_with_what_became_of_them(tmp_path: Path) -> None:
    """State, end and outcomes are those of the entries: one caution, one squawk."""
    first = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        new_run(logbook, started_at=STARTED_AT + DAY).close()
        newest, oldest = runs(logbook)
    assert oldest.run == first
    assert (oldest.state, oldest.ended_at) == (RunState.COMPLETE, STARTED_AT + 60)
    assert (oldest.cautions, oldest.squawks, oldest.oat_celsius) == (1, 1, 4.0)
    assert (newest.state, newest.ended_at) == (RunState.OPEN, None)


def test_a_list_may_be_of_one_airplane_by_tail_or_by_file_name(tmp_path: Path) -> None:
    """The registration means one tail, the file's name every tail flown with it."""
    with Logbook.open(tmp_path) as logbook:
        new_run(logbook).close()
        new_run(logbook, started_at=STARTED_AT + DAY, registration="X-WREN").close()
        assert [run.registration for run in runs(logbook, airplane="X-WREN")] == ["X-WREN"]
        assert registrations_of(logbook, "lark") == ["X-LARK", "X-WREN"]
        assert len(runs(logbook, airplane="lark", limit=1)) == 1


def test_unfinished_runs_are_those_without_an_end(tmp_path: Path) -> None:
    """A completed run is not offered for resuming."""
    write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        with new_run(logbook, started_at=STARTED_AT + DAY) as handle:
            handle.append(next(whole_run()))
        assert [run.run for run in unfinished(logbook)] == [handle.run]


def test_a_run_is_found_by_its_start_or_as_the_last(tmp_path: Path) -> None:
    """Typing the whole id is never needed."""
    first = write_run(tmp_path)
    second = write_run(tmp_path, started_at=STARTED_AT + DAY)
    with Logbook.open(tmp_path) as logbook:
        assert find_run(logbook, "2025-11-25").run == first
        assert find_run(logbook, second).run == second
        assert find_run(logbook, "last").run == second
        with pytest.raises(RecordError, match=f'"2025-11" could be any of {first}, {second}; write more'):
            find_run(logbook, "2025-11")
        with pytest.raises(RecordError, match='no run "1999"'):
            find_run(logbook, "1999")


def test_an_airplane_that_never_ran_is_named(tmp_path: Path) -> None:
    """The message says where the list is."""
    with Logbook.open(tmp_path) as logbook, pytest.raises(RecordError, match='no runs of "heron"'):
        runs(logbook, airplane="heron")
