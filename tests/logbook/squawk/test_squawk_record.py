from pathlib import Path

import pytest

from runner.errors import RecordError
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.maintenance_record import Closed, Deferred, Noted, Remark, file_record
from runner.logbook.squawk.squawk_record import SquawkState, find_squawk, squawks, squawks_in
from tests.logbook.sample import STARTED_AT, new_run, whole_run, write_run

NOTE = Noted(STARTED_AT + 100, "A. Invented", "volts", "seen again")
DEFERRAL = Deferred(STARTED_AT + 200, "B. Invented", "volts", "log page 7", "2025-12-24")
CLOSURE = Closed(STARTED_AT + 300, "C. Invented", "volts", "battery replaced")


def test_a_squawk_is_an_answer_that_stands(tmp_path: Path) -> None:
    """The sample run's low volts, confirmed after a correction."""
    run = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        (squawk,) = squawks(logbook)
    assert squawk.name == f"{run}/volts"
    assert (squawk.answer, squawk.value, squawk.unit) == ("21.40", 21.4, "volts")
    assert squawk.state is SquawkState.OPEN


def test_a_squawk_that_was_corrected_in_its_run_is_gone(tmp_path: Path) -> None:
    """`correction` takes it back before it reaches anyone."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        entries = list(whole_run())
        for entry in (*entries[:8], entries[5]):
            handle.append(entry)
        assert squawks(logbook) == ()


@pytest.mark.parametrize(
    ("records", "state"),
    [
        ([NOTE], SquawkState.OPEN),
        ([NOTE, DEFERRAL], SquawkState.DEFERRED),
        ([DEFERRAL, CLOSURE], SquawkState.CLOSED),
        ([CLOSURE, DEFERRAL], SquawkState.CLOSED),
    ],
)
def test_the_latest_record_that_changes_it_gives_its_state(
    tmp_path: Path, records: list[Remark], state: SquawkState
) -> None:
    """By the records' own times, not the order in which they arrived."""
    run = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        for record in records:
            file_record(logbook, run, record)
        squawk = find_squawk(logbook, run, "volts")
        assert squawk.state is state
        assert len(squawk.records) == len(records)
        assert squawks(logbook, airplane="lark") == squawks_in(logbook, run) == (squawk,)


def test_an_item_without_a_squawk_is_named_with_those_that_have_one(tmp_path: Path) -> None:
    """The message lists what can be typed."""
    run = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook, pytest.raises(RecordError, match=f'"lamps"; it has: {run}/volts'):
        find_squawk(logbook, run, "lamps")
