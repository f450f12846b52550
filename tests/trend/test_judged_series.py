import math
from dataclasses import replace

import pytest

from runner.trend.judged_series import RECENT, rounding, trend_of
from runner.trend.series import Maintenance
from runner.trend.verdict import Steadiness
from tests.trend.sample import STARTED_AT, WEEK, gyro, rise


def _season(run: int) -> float:
    return 5.0 - 15.0 * math.cos(2 * math.pi * run / 52)


def test_cold_mornings_alarm_nobody_when_their_temperature_is_known() -> None:
    """A quarter of a second a degree over a year; without temperatures the same looks like a move."""
    weather = {"added": lambda run: -0.25 * _season(run), "scatter": 0.5}
    known, unknown = trend_of(gyro(50, celsius=_season, **weather)), trend_of(gyro(50, **weather))  # type: ignore[arg-type] # one mapping of two kinds
    assert (known.verdict.state, known.is_weather_known) == (Steadiness.STEADY, True)
    assert known.per_degree == pytest.approx(-0.25, abs=0.03)
    assert (unknown.verdict.has_moved, unknown.is_weather_known, unknown.per_degree) == (True, False, 0.0)


def test_a_drift_through_the_seasons_is_still_a_drift() -> None:
    """One second a run on top of the weather."""
    slow = rise(20, 1.0)
    both = trend_of(gyro(32, added=lambda run: slow(run) - 0.25 * _season(run), celsius=_season))
    assert both.verdict.state is Steadiness.DRIFTING
    assert both.verdict.per_month == pytest.approx(4.35, rel=0.25)


def test_maintenance_ends_a_drift() -> None:
    """The new gyro has too few runs to tell at first, then it is steady."""
    drifting = gyro(45, added=lambda run: rise(20, 1.0)(run) * (run < 32))
    replaced = Maintenance(STARTED_AT + 31.5 * WEEK, "left gyro replaced", "left gyro")
    assert trend_of(gyro(32, added=rise(20, 1.0))).verdict.state is Steadiness.DRIFTING
    judged = trend_of(drifting, [replaced])
    assert judged.verdict.state is Steadiness.STEADY
    assert judged.baseline.since == replaced
    assert len(judged.points) == 45 - 32


def test_the_charts_stand_on_the_normal_runs_only() -> None:
    """A drift widens neither the limits nor the centre."""
    drifting, steady = trend_of(gyro(40, added=rise(20, 1.0))), trend_of(gyro(40))
    assert drifting.individuals is not None
    assert steady.individuals is not None
    assert drifting.ewma is not None
    assert drifting.individuals.upper == pytest.approx(steady.individuals.upper, abs=1.0)
    assert drifting.ewma.averages[-1] > drifting.ewma.upper[-1]


def test_a_series_without_runs_has_no_charts() -> None:
    """And says that there are too few."""
    empty = trend_of(gyro(0))
    assert (empty.individuals, empty.ewma, empty.mann_kendall, empty.slope) == (None,) * 4


def test_only_recent_runs_are_looked_at() -> None:
    """The newest of them."""
    long = gyro(RECENT + 50)
    assert trend_of(long).points == long.points[50:]


def test_the_least_scatter_is_half_of_the_smallest_step_seen() -> None:
    """A gauge that shows tenths is believed to a twentieth."""
    assert rounding([24.6, 24.8, 24.7, 24.6]) == pytest.approx(0.05)
    assert rounding([24.6, 24.6]) == 0.0


def test_a_last_digit_that_turns_over_is_no_news() -> None:
    """Twenty runs at 24.6 volts, then four at 24.5."""
    turned = [24.6] * 20 + [24.5] * 4
    series = gyro(24)
    points = tuple(replace(point, value=value) for point, value in zip(series.points, turned, strict=True))
    assert trend_of(replace(series, points=points)).verdict.state is Steadiness.STEADY


def test_runs_that_are_all_alike_are_steady() -> None:
    """At any size and date: no rounding error of ours becomes a verdict."""
    for value in (21.4, 0.1, 30.5, 123456.7):
        series = gyro(40)
        points = tuple(replace(point, value=value, celsius=4.0) for point in series.points)
        assert trend_of(replace(series, points=points)).verdict.state is Steadiness.STEADY
