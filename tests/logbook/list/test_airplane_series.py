from pathlib import Path

import pytest

from runner.core.record.given_answer import AnswerKind
from runner.errors import RecordError
from runner.logbook.list.airplane_series import paces_of, series_of
from runner.logbook.record.run_store import Logbook
from tests.logbook.sample import STARTED_AT, new_run, write_run

DAY = 86_400


def test_a_series_holds_the_answers_that_stand_oldest_first(tmp_path: Path) -> None:
    """The corrected volts are gone, the gyro has its own name, words have no series."""
    runs = [write_run(tmp_path, started_at=STARTED_AT + day * DAY) for day in range(3)]
    with Logbook.open(tmp_path) as logbook:
        gyro, volts = series_of(logbook, "X-LARK")
    assert (gyro.name, gyro.kind, gyro.unit) == ("left gyro", AnswerKind.SPIN_UP, "seconds")
    assert [(point.run, point.value) for point in gyro.points] == [(run, 30.5) for run in runs]
    assert (volts.name, volts.kind, volts.unit) == ("volts", AnswerKind.READING, "volts")
    assert [(point.value, point.answer) for point in volts.points] == [(21.4, "21.40")] * 3
    assert [point.oat_celsius for point in volts.points] == [4.0] * 3


def test_the_paces_are_those_of_the_newest_runs(tmp_path: Path) -> None:
    """Two seconds for each answer, as the sample answers; more runs than there are means all."""
    runs = [write_run(tmp_path, started_at=STARTED_AT + day * DAY) for day in range(3)]
    with Logbook.open(tmp_path) as logbook:
        for newest, wanted in ((2, runs[1:]), (9, runs)):
            paces = paces_of(logbook, "lark", newest)
            assert [pace.run for pace in paces] == wanted
            assert {seconds for pace in paces for seconds in pace.seconds} == {2.0}


def test_a_file_name_of_several_tails_is_not_one_series(tmp_path: Path) -> None:
    """Two tails are never mixed into one series."""
    with Logbook.open(tmp_path) as logbook:
        new_run(logbook).close()
        new_run(logbook, registration="X-WREN").close()
        with pytest.raises(RecordError, match='"lark" is several tails: X-LARK, X-WREN'):
            series_of(logbook, "lark")
