from pathlib import Path

import pytest

from runner.core.answer_origin import Reception
from runner.core.record.entry import ClockEnded, RunStarted
from runner.errors import RecordError
from runner.language.catalogue import Outcome
from runner.logbook.invented.synthetic import InventedAirplane, Recipe, Story, write_history
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.maintenance_record import Serviced, file_record
from runner.report.fleet.airplane_trend import moves_of, trends_of
from runner.session.parts import load_parts
from runner.trend.series import Limits, Quantity
from runner.trend.verdict import Steadiness
from tests.logbook.sample import STARTED_AT, new_run, whole_run, write_run

TAIL = "QQ-ZZZ"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A logbook with an invented airplane whose turn gyro fails from run 20 on."""
    folder = tmp_path_factory.mktemp("logbook")
    parts = load_parts("tarn-reserve")
    airplane = InventedAirplane(parts.check.airplane, TAIL, parts.check_text, parts.airplane_text)
    with Logbook.open(folder) as logbook:
        write_history(logbook, parts.check, airplane, Recipe(Story.FAILING_GYRO, 7, runs=32))
    return folder


def test_every_gyro_and_reading_the_sag_and_the_response_times_are_trended(folder: Path) -> None:
    """Gyros first; each with the limits of the check that the logbook kept."""
    with Logbook.open(folder) as logbook:
        found = trends_of(logbook, "tarn-qx83")
    assert (found.registration, found.is_invented) == (TAIL, True)
    assert [trend.series.name for trend in found.trends] == [
        "left direction gyro",
        "turn gyro",
        "battery at rest",
        "volts after",
        "volts on essential",
        "sag, volts on essential",
        "battery resistance",
        "response times",
    ]
    named = {trend.series.name: trend for trend in found.trends}
    assert named["turn gyro"].series.limits == Limits(high=40.0)
    assert named["battery at rest"].series.limits == Limits(25.2, 26.2)
    assert named["response times"].series.quantity is Quantity.RESPONSE
    assert all(len(trend.points) == 32 for trend in found.trends)
    assert all(trend.is_weather_known for trend in found.trends)


def test_the_failing_gyro_is_the_only_one_that_drifts(folder: Path) -> None:
    """The generator made one fail."""
    with Logbook.open(folder) as logbook:
        moved = [trend for trend in trends_of(logbook, TAIL).trends if trend.verdict.has_moved]
    assert [(trend.series.name, trend.verdict.state) for trend in moved] == [
        ("turn gyro", Steadiness.DRIFTING)
    ]


def test_recorded_maintenance_starts_its_series_anew(tmp_path: Path) -> None:
    """Of the gyro that was replaced, and of no other."""
    with Logbook.open(tmp_path) as logbook:
        for day in range(10):
            write_run(tmp_path, started_at=STARTED_AT + day * 86_400)
        done = Serviced(STARTED_AT + 5.5 * 86_400, "M. Invented", "left gyro replaced", "left gyro")
        file_record(logbook, "X-LARK", done)
        named = {trend.series.name: trend for trend in trends_of(logbook, "lark").trends}
    assert len(named["left gyro"].points) == 4
    assert named["left gyro"].baseline.since is not None
    assert len(named["volts"].points) == 10


def test_response_times_go_by_person(tmp_path: Path) -> None:
    """Two who fly one tail have a series each; one alone has the tail's."""
    with Logbook.open(tmp_path) as logbook:
        for day in range(4):
            write_run(tmp_path, started_at=STARTED_AT + day * 86_400)
        alone = [trend.series.name for trend in trends_of(logbook, "X-LARK").trends]
        for day in range(4, 7):
            with new_run(logbook, started_at=STARTED_AT + day * 86_400, pilot="B. Invented") as run:
                for entry in whole_run(STARTED_AT + day * 86_400):
                    run.append(entry)
        named = {trend.series.name: trend for trend in trends_of(logbook, "X-LARK").trends}
    assert "response times" in alone
    assert len(named["response times of A. Invented"].points) == 4
    assert len(named["response times of B. Invented"].points) == 3
    assert "response times" not in named


def test_a_check_that_cannot_be_read_gives_neither_limits_nor_sag(tmp_path: Path) -> None:
    """The sample's text is no whole check; the numbers are trended all the same."""
    write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        found = trends_of(logbook, "X-LARK").trends
    assert [trend.series.name for trend in found] == ["left gyro", "volts", "response times"]
    assert {trend.series.limits for trend in found} == {Limits()}


def test_a_stuck_flag_is_no_measurement(tmp_path: Path) -> None:
    """Its seconds are when it was given up: left out, and counted."""
    ended = ClockEnded(
        STARTED_AT + 200,
        "left_flag",
        180.0,
        is_pulled=False,
        outcome=Outcome.SQUAWK,
        reception=Reception("stuck", 1.0, "keys"),
    )
    with Logbook.open(tmp_path) as logbook:
        with new_run(logbook) as handle:
            handle.append(RunStarted(STARTED_AT))
            handle.append(ended)
        (gyro, *_) = trends_of(logbook, "X-LARK").trends
    assert (gyro.series.name, gyro.series.left_out, gyro.points) == ("left gyro", 1, ())
    assert gyro.verdict.state is Steadiness.TOO_FEW


def test_an_unknown_airplane_is_refused(folder: Path) -> None:
    """With what lists those that there are."""
    with Logbook.open(folder) as logbook, pytest.raises(RecordError, match='no runs of "QQ-NIX"'):
        trends_of(logbook, "QQ-NIX")


def _moves(folder: Path, story: Story) -> str:
    """Of an invented airplane with half a year of such a history."""
    parts = load_parts("tarn-reserve")
    airplane = InventedAirplane(parts.check.airplane, "QQ-TQX", parts.check_text, parts.airplane_text)
    with Logbook.open(folder) as logbook:
        write_history(logbook, parts.check, airplane, Recipe(story, 7, runs=32))
        return moves_of(logbook, "QQ-TQX")


def test_a_failing_gyro_is_told_in_one_sentence(tmp_path: Path) -> None:
    """Ten percent a month over twelve weeks has moved."""
    sentence = _moves(tmp_path, Story.FAILING_GYRO)
    assert sentence.endswith(".")
    assert "gyro" in sentence.lower() or "turn" in sentence.lower()


@pytest.mark.parametrize("registration", ["QQ-TQX", "QQ-ML2"])
def test_an_airplane_without_runs_has_no_sentence(tmp_path: Path, registration: str) -> None:
    """The end of a run is not spoilt by what cannot be read."""
    with Logbook.open(tmp_path) as logbook:
        assert moves_of(logbook, registration) == ""
