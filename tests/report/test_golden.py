"""Reports of records as earlier versions wrote them: what they said is said still; more may be said."""

import csv
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from runner.logbook.carry.run_export import KeptFiles
from runner.logbook.record.run_store import Logbook
from runner.report.run.run_csv import run_csv
from runner.report.run.run_json import run_dict
from runner.report.run.run_report import Basis, RunReport, run_report
from tests.core.test_golden import GOLDEN, record_of
from tests.report.run_sample import MAKER

REPORTS = Path(__file__).parent / "golden"
"""Of each record the report as JSON and as CSV, made before the house was put in order; the run is RUN."""


def reported(folder: Path, record: Path) -> RunReport:
    """The report of a record, written into a logbook of its own."""
    _, plan, entries = record_of(record)
    with Logbook.open(folder) as logbook:
        with logbook.create_run(
            check=plan.check.name,
            check_text="check",
            airplane="",
            airplane_text="",
            registration="X-LARK",
            pilot="A. Invented",
            started_at=entries[0].at,
        ) as handle:
            for entry in entries:
                handle.append(entry)
        kept = KeptFiles(logbook, logbook.clips)
        return run_report(logbook, kept, handle.run, Basis(plan.check, None, plan), MAKER)


def assert_says_still(now: Any, before: Any) -> None:
    """Every value of before, in its place; an object may have more than it had."""
    if isinstance(before, dict):
        assert before.keys() <= now.keys()
        for key, value in before.items():
            assert_says_still(now[key], value)
    elif isinstance(before, list):
        assert len(now) == len(before)
        for one, other in zip(now, before, strict=True):
            assert_says_still(one, other)
    else:
        assert now == before


def rows_of(lines: Sequence[str]) -> list[dict[str, str]]:
    """Each row by its heads."""
    return list(csv.DictReader(lines))


@pytest.mark.parametrize("record", GOLDEN, ids=lambda path: path.stem)
def test_an_earlier_record_is_reported_as_it_was(tmp_path: Path, record: Path) -> None:
    """Answers with their times and origins, stops, squawks, spin-ups, what happened, and every row."""
    golden = json.loads((REPORTS / record.name).read_text(encoding="utf-8"))
    report = reported(tmp_path, record)
    run = report.header.run
    assert_says_still(json.loads(json.dumps(run_dict(report)).replace(run, "RUN")), golden["report"])
    rows = rows_of(run_csv(report).replace(run, "RUN").splitlines())
    assert_says_still(rows, rows_of(golden["csv"]))
