from typing import get_args

import pytest

from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.ask.prompt import last_completed
from runner.core.record.entry import (
    AnswerRecorded,
    ClockAdvised,
    ClockEnded,
    ClockStarted,
    Entry,
    PutOff,
    Reopened,
    RunStarted,
)
from runner.core.record.fold import FOLDS, fold
from runner.core.record.progress import Progress
from runner.errors import RecordError
from runner.language.catalogue import Outcome
from tests.core.sample import PLAN, completed, powered


def test_each_kind_of_entry_has_its_place_in_the_fold() -> None:
    """Nothing in a record is passed over."""
    assert set(FOLDS) == set(get_args(Entry))


def test_the_fold_is_the_same_in_one_go_and_line_by_line() -> None:
    """`Progress.after` is a step of it."""
    entries = completed().entries
    progress = Progress(PLAN)
    for entry in entries:
        progress = progress.after(entry)
    assert progress == fold(PLAN, entries)


@pytest.mark.parametrize(
    "entry",
    [
        PutOff(1.0, "propeller"),
        ClockStarted(1.0, "propeller"),
        Reopened(1.0, "propeller"),
        AnswerRecorded(
            *(1.0, "propeller", "on", "", Outcome.PASS),
            AnswerOrigin(1.0, None, is_hasty=False, reception=Reception("on", 1.0, "keys")),
        ),
    ],
)
def test_a_record_of_another_check_is_refused(entry: Entry) -> None:
    """The message names the entry and what to do."""
    with pytest.raises(RecordError, match='"propeller" has no place in it; open it with the check'):
        fold(PLAN, [RunStarted(0.0), entry])


def test_a_clock_that_never_started_cannot_change() -> None:
    """The record does not fit the check that it is read with."""
    with pytest.raises(RecordError, match='ClockAdvised of "left flag"'):
        fold(PLAN, [ClockAdvised(1.0, "left flag")])


def test_reopening_takes_back_the_latest_of_several_answers() -> None:
    """An item may be answered, reopened, and answered again."""
    run = powered()
    progress = run.machine.progress.after(Reopened(run.at, "reserve"))
    assert progress.done == ("fit",)
    assert progress.after(Reopened(run.at, "lamps")).done == ("fit",)


def test_a_clock_that_is_dropped_is_no_longer_done() -> None:
    """Its gyro's power is in question again; what was completed last is something that still stands."""
    run = powered().pulled("left flag")
    progress = run.machine.progress.after(Reopened(run.at, "reserve"))
    assert progress.done == ("fit",)
    assert last_completed(progress) == "FIT: new"


def test_what_is_superseded_stays_in_its_order() -> None:
    """Answers and clock ends alike."""
    run = powered().pulled("left flag")
    progress = run.machine.progress.after(Reopened(run.at, "left flag")).after(Reopened(run.at, "reserve"))
    assert [type(record) for record in progress.superseded] == [ClockEnded, AnswerRecorded]
    assert progress.clocks == {}
