from pathlib import Path

import pytest

from runner.core.plan import Plan
from runner.core.record.entry import Entry, RunStarted
from runner.language.catalogue import Outcome
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.maintenance_record import Closed, Deferred, Remark, file_record
from runner.session.recollection import recall
from tests.core.sample import PLAN
from tests.logbook.sample import AIRPLANE_TEXT, STARTED_AT, answer, new_run, whole_run


def begin(
    logbook: Logbook,
    entries: tuple[Entry, ...] = (),
    *,
    text: str = "check: one\n",
    pilot: str = "A. Invented",
    registration: str = "X-LARK",
    is_invented: bool = False,
) -> Plan:
    """What a new run is told; then these entries go on its record."""
    handle = logbook.create_run(
        check="lark-reserve",
        check_text=text,
        airplane="lark",
        airplane_text=AIRPLANE_TEXT,
        registration=registration,
        pilot=pilot,
        started_at=STARTED_AT,
        oat_celsius=None,
        is_invented=is_invented,
    )
    with handle:
        plan = recall(logbook, handle.header, PLAN)
        for entry in entries:
            handle.append(entry)
    return plan


def test_the_first_run_of_a_pilot_has_the_cautions_in_full_and_the_next_has_not(tmp_path: Path) -> None:
    """An answer to an item is what shows that they were gone through."""
    with Logbook.open(tmp_path) as logbook:
        assert not begin(logbook, (RunStarted(STARTED_AT),)).has_heard_cautions
        assert not begin(logbook, tuple(whole_run())).has_heard_cautions, "it was stopped in the cautions"
        assert begin(logbook).has_heard_cautions


@pytest.mark.parametrize(
    "other", [{"text": "check: two\n"}, {"pilot": "B. Invented"}, {"pilot": ""}, {"is_invented": True}]
)
def test_another_version_another_pilot_and_an_invented_run_do_not_count(
    tmp_path: Path, other: dict[str, str]
) -> None:
    """A pilot without a name may be anyone."""
    with Logbook.open(tmp_path) as logbook:
        begin(logbook, tuple(whole_run()), **other)  # type: ignore[arg-type] # one of several keywords
        assert not begin(logbook).has_heard_cautions
        assert not begin(logbook, pilot="").has_heard_cautions


def test_open_squawks_of_the_tail_are_told_in_the_words_of_their_answers(tmp_path: Path) -> None:
    """The newest first, numbers digit by digit, and none of another tail."""
    lamps = answer(STARTED_AT + 90, "gear lamps", "left out", Outcome.SQUAWK)
    with Logbook.open(tmp_path) as logbook:
        assert begin(logbook, (*list(whole_run())[:-1], lamps)).open_squawks == ()
        told = begin(logbook).open_squawks
        assert told == ("gear lamps, left out", "volts, two one decimal four zero volts")
        assert begin(logbook, registration="X-OTHER").open_squawks == ()


@pytest.mark.parametrize(
    ("record", "count"),
    [
        (Closed(STARTED_AT + 300, "C. Invented", "volts", "battery replaced"), 0),
        (Deferred(STARTED_AT + 200, "B. Invented", "volts", "log page 7", "2025-12-24"), 1),
    ],
)
def test_a_closed_squawk_is_not_told_and_a_deferred_one_is(
    tmp_path: Path, record: Remark, count: int
) -> None:
    """Deferred means that it is still there."""
    with Logbook.open(tmp_path) as logbook:
        with new_run(logbook) as handle:
            for entry in whole_run():
                handle.append(entry)
        file_record(logbook, handle.run, record)
        assert len(begin(logbook).open_squawks) == count
