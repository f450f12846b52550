"""The summary tables of runs and answers, against the record that they are made of."""

from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from runner.core.record.entry import DeclaredUnable, Entry, Reopened, RunAbandoned
from runner.language.catalogue import Outcome
from runner.logbook.proof.audit import audit
from runner.logbook.record.run_store import Logbook
from tests.core.record.test_answer_history import ENTRIES
from tests.logbook.sample import STARTED_AT, answer, new_run


def test_the_tables_on_disk_hold_what_each_answer_said(tmp_path: Path) -> None:
    """Written by hand too, since verify compares the tables with the same fold that made them."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        handle.append(answer(STARTED_AT + 20, "volts", "21.40", Outcome.SQUAWK, "volts"))
        handle.append(DeclaredUnable(STARTED_AT + 30, "radio"))
        handle.append(answer(STARTED_AT + 35, "lamps", "lit", Outcome.PASS))
        handle.append(Reopened(STARTED_AT + 36, "lamps"))
        handle.append(RunAbandoned(STARTED_AT + 40))
        rows = logbook.rows("SELECT item, kind, answer, value, unit, outcome, at FROM answer ORDER BY item")
        runs = logbook.rows("SELECT state, ended_at, cautions, squawks FROM run")
    assert [tuple(row) for row in rows] == [
        ("radio", "unable", "unable", None, "", "", STARTED_AT + 30),
        ("volts", "reading", "21.40", 21.4, "volts", "squawk", STARTED_AT + 19.5),
    ]
    assert [tuple(row) for row in runs] == [("abandoned", STARTED_AT + 40, 0, 1)]


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(entries=st.lists(ENTRIES, max_size=12))
def test_the_summaries_on_disk_always_say_what_the_record_says(tmp_path: Path, entries: list[Entry]) -> None:
    """Whatever is appended, one by one, verify finds the tables equal to the fold of the record."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        for entry in entries:
            handle.append(entry)
        verdict = next(verdict for verdict in audit(logbook).verdicts if verdict.chain == handle.run)
        assert verdict.faults == ()
        assert logbook.entries(handle.run) == tuple(entries)
