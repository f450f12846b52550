from pathlib import Path

import pytest

from runner.errors import RecordError
from runner.logbook.proof.audit import audit_folder
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.maintenance_record import (
    Closed,
    Deferred,
    Noted,
    Record,
    Serviced,
    file_record,
    filed_about,
    read_record,
    record_json,
    services_of,
)
from tests.logbook.sample import STARTED_AT, write_run

RECORDS: list[Record] = [
    Noted(STARTED_AT + 100, "A. Invented", "volts", "seen again", "clip"),
    Deferred(STARTED_AT + 200, "B. Invented", "volts", "log page 7", "2025-12-24", {"d1": True}),
    Closed(STARTED_AT + 300, "C. Invented", "volts", "battery replaced"),
    Serviced(STARTED_AT + 400, "C. Invented", "gyro overhauled", "left gyro"),
]


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: type(record).__name__)
def test_a_record_comes_back_from_its_json(record: Record) -> None:
    """Every kind, with every field set."""
    assert read_record(record_json(record)) == record


def test_records_are_chained_and_come_back_by_time(tmp_path: Path) -> None:
    """Filed out of order, about a run and its airplane; verify walks their chains as well."""
    run = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        for record in reversed(RECORDS[:3]):
            file_record(logbook, run, record)
        file_record(logbook, "X-LARK", RECORDS[3])
        assert [filed.record for filed in filed_about(logbook)] == RECORDS
        assert [filed.record for filed in filed_about(logbook, run)] == RECORDS[:3]
        assert services_of(logbook, "X-LARK") == (RECORDS[3],)
        assert services_of(logbook, "X-LAR") == ()
    result = audit_folder(tmp_path)
    assert result.is_whole
    assert sorted(verdict.lines for verdict in result.verdicts) == [2, 4, 13]


def test_a_changed_record_is_refused_by_name(tmp_path: Path) -> None:
    """Nobody closes a squawk with an editor."""
    run = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        file_record(logbook, run, RECORDS[0])
        with logbook.writing() as connection:
            connection.execute("UPDATE line SET text = replace(text, 'seen again', 'not seen')")
        with pytest.raises(RecordError, match=rf"maintenance records {run}\+.*line 1 does not match"):
            filed_about(logbook, run)
    assert not audit_folder(tmp_path).is_whole


@pytest.mark.parametrize(
    "body", [{}, {"kind": "erased"}, {"kind": "closed", "at": 1.0}, {"kind": "closed", "odd": 1}]
)
def test_what_is_no_record_is_refused(body: dict[str, object]) -> None:
    """Unknown kinds and fields, and missing fields."""
    with pytest.raises(RecordError, match="not a maintenance record"):
        read_record(body)
