from dataclasses import replace

import pytest

from runner.trend.drift import FEWEST
from runner.trend.series import MONTH, Limits
from runner.trend.trend import trend_of
from runner.trend.verdict import Sign, State
from tests.trend.sample import STARTED_AT, WEEK, gyro, rise, step


def test_too_few_runs_are_said_to_be_too_few() -> None:
    """None, one, and one less than enough; the next one is enough."""
    for runs in (0, 1, FEWEST - 1):
        verdict = trend_of(gyro(runs)).verdict
        assert (verdict.state, verdict.runs, verdict.usual) == (State.TOO_FEW, runs, None)
    assert trend_of(gyro(FEWEST)).verdict.state is State.STEADY


def test_a_steady_gyro_is_steady() -> None:
    """Its usual level is where it was made."""
    verdict = trend_of(gyro(60)).verdict
    assert (verdict.state, verdict.sign, verdict.has_moved) == (State.STEADY, Sign.NONE, False)
    assert verdict.usual == pytest.approx(40.0, abs=0.6)


def test_a_drift_is_called_one_with_its_rate_and_the_date_of_its_limit() -> None:
    """One second a run from run 20 on, 4.35 a month; the limit of 80 lies 20 runs after the last."""
    verdict = trend_of(gyro(40, added=rise(20, 1.0))).verdict
    assert (verdict.state, verdict.sign) == (State.DRIFTING, Sign.SUM)
    assert verdict.since is not None
    assert 18 * WEEK <= verdict.since - STARTED_AT <= 25 * WEEK
    assert verdict.per_month == pytest.approx(MONTH / WEEK, rel=0.1)
    assert verdict.per_month_low is not None
    assert verdict.per_month_high is not None
    assert verdict.per_month_low < MONTH / WEEK < verdict.per_month_high
    assert verdict.reach is not None
    assert verdict.reach.about - STARTED_AT == pytest.approx(60 * WEEK, abs=3 * WEEK)
    assert verdict.reach.earliest < verdict.reach.about
    assert verdict.reach.latest is not None
    assert verdict.reach.latest > verdict.reach.about


def test_a_step_is_out_of_control_and_no_drift() -> None:
    """Five seconds from run 20 on, and no further."""
    verdict = trend_of(gyro(34, added=step(20, 5.0))).verdict
    assert (verdict.state, verdict.sign, verdict.per_month) == (State.OUT_OF_CONTROL, Sign.SUM, None)
    assert verdict.moved_by == pytest.approx(5.0, abs=1.0)
    assert verdict.since == pytest.approx(STARTED_AT + 20 * WEEK, abs=WEEK)


def test_one_run_far_outside_is_out_of_control_and_the_next_is_steady_again() -> None:
    """Ten seconds once."""
    verdict = trend_of(gyro(30, added=lambda run: 10.0 * (run == 29))).verdict
    assert (verdict.state, verdict.sign) == (State.OUT_OF_CONTROL, Sign.RUN)
    assert verdict.moved_by == pytest.approx(10.0, abs=3.0)
    assert trend_of(gyro(31, added=lambda run: 10.0 * (run == 29))).verdict.state is State.STEADY


def test_a_drift_too_slow_for_the_sum_shows_over_all_runs_when_its_limit_is_near() -> None:
    """A thirtieth of its scatter a run over two years; a limit out of reach makes it no news."""
    slow = gyro(100, added=rise(0, 0.03), limit=43.5)
    verdict = trend_of(slow).verdict
    assert (verdict.state, verdict.sign) == (State.DRIFTING, Sign.TREND)
    assert verdict.per_month == pytest.approx(0.03 * MONTH / WEEK, rel=0.3)
    assert verdict.moved_by == pytest.approx(3.0, abs=1.0)
    assert trend_of(replace(slow, limits=Limits(high=500.0))).verdict.state is State.STEADY


def test_a_slow_drift_without_a_limit_matters_by_its_share() -> None:
    """Four percent a year is not; the same seconds on a level of 4 are."""
    slow = gyro(100, added=rise(0, 0.03), limit=None)
    assert trend_of(slow).verdict.state is State.STEADY
    low = replace(slow, points=tuple(replace(point, value=point.value - 36.0) for point in slow.points))
    assert trend_of(low).verdict.state is State.DRIFTING


def test_runs_at_one_time_have_no_slope() -> None:
    """Nothing is said of months when no time has gone by."""
    one = gyro(20)
    still = replace(one, points=tuple(replace(point, at=STARTED_AT) for point in one.points))
    assert trend_of(still).verdict.state is State.STEADY
