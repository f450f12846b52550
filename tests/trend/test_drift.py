from collections.abc import Sequence
from dataclasses import replace

import pytest

from runner.trend.covariate import TemperatureLine
from runner.trend.drift import FEWEST, Case, judge
from runner.trend.judged_series import trend_of
from runner.trend.score import Watch, watch
from runner.trend.series import MONTH, Limits
from runner.trend.verdict import Sign, Steadiness
from tests.trend.sample import STARTED_AT, WEEK, gyro, rise, step

NO_LIMITS = Limits()


def test_too_few_runs_are_said_to_be_too_few() -> None:
    """None, one, and one less than enough; the next one is enough."""
    for runs in (0, 1, FEWEST - 1):
        verdict = trend_of(gyro(runs)).verdict
        assert (verdict.state, verdict.runs, verdict.usual) == (Steadiness.TOO_FEW, runs, None)
    assert trend_of(gyro(FEWEST)).verdict.state is Steadiness.STEADY


def test_a_steady_gyro_is_steady() -> None:
    """Its usual level is where it was made."""
    verdict = trend_of(gyro(60)).verdict
    assert (verdict.state, verdict.sign, verdict.has_moved) == (Steadiness.STEADY, Sign.NONE, False)
    assert verdict.usual == pytest.approx(40.0, abs=0.6)


def test_a_drift_is_called_one_with_its_rate_and_the_date_of_its_limit() -> None:
    """One second a run from run 20 on, 4.35 a month; the limit of 80 lies 20 runs after the last."""
    verdict = trend_of(gyro(40, added=rise(20, 1.0))).verdict
    assert (verdict.state, verdict.sign) == (Steadiness.DRIFTING, Sign.SUM)
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
    assert (verdict.state, verdict.sign, verdict.per_month) == (Steadiness.OUT_OF_CONTROL, Sign.SUM, None)
    assert verdict.moved_by == pytest.approx(5.0, abs=1.0)
    assert verdict.since == pytest.approx(STARTED_AT + 20 * WEEK, abs=WEEK)


def test_one_run_far_outside_is_out_of_control_and_the_next_is_steady_again() -> None:
    """Ten seconds once."""
    verdict = trend_of(gyro(30, added=lambda run: 10.0 * (run == 29))).verdict
    assert (verdict.state, verdict.sign) == (Steadiness.OUT_OF_CONTROL, Sign.RUN)
    assert verdict.moved_by == pytest.approx(10.0, abs=3.0)
    assert trend_of(gyro(31, added=lambda run: 10.0 * (run == 29))).verdict.state is Steadiness.STEADY


def test_a_drift_too_slow_for_the_sum_shows_over_all_runs_when_its_limit_is_near() -> None:
    """A thirtieth of its scatter a run over two years; a limit out of reach makes it no news."""
    slow = gyro(100, added=rise(0, 0.03), limit=43.5)
    verdict = trend_of(slow).verdict
    assert (verdict.state, verdict.sign) == (Steadiness.DRIFTING, Sign.TREND)
    assert verdict.per_month == pytest.approx(0.03 * MONTH / WEEK, rel=0.3)
    assert verdict.moved_by == pytest.approx(3.0, abs=1.0)
    assert trend_of(replace(slow, limits=Limits(high=500.0))).verdict.state is Steadiness.STEADY


def test_a_slow_drift_without_a_limit_matters_by_its_share() -> None:
    """Four percent a year is not; the same seconds on a level of 4 are."""
    slow = gyro(100, added=rise(0, 0.03), limit=None)
    assert trend_of(slow).verdict.state is Steadiness.STEADY
    low = replace(slow, points=tuple(replace(point, value=point.value - 36.0) for point in slow.points))
    assert trend_of(low).verdict.state is Steadiness.DRIFTING


def test_runs_at_one_time_have_no_slope() -> None:
    """Nothing is said of months when no time has gone by."""
    one = gyro(20)
    still = replace(one, points=tuple(replace(point, at=STARTED_AT) for point in one.points))
    assert trend_of(still).verdict.state is Steadiness.STEADY


def case(values: Sequence[float], score: float = 0.0, limits: Limits = NO_LIMITS) -> Case:
    """A value a month, all of them learned as normal, the last run with this score."""
    runs = len(values)
    scores = (None,) * min(3, runs - 1) + (0.0,) * max(0, runs - 4) + (score,)
    sums = (0.0,) * runs
    seen = Watch(scores, sums, sums, TemperatureLine(), None, tuple(range(runs)))
    return Case([run * MONTH for run in range(runs)], values, limits, seen)


def test_too_few_and_steady_still_tell_the_last_value() -> None:
    """So that a table is never without it; of no runs there is none."""
    few, enough = [4.0, 5.0, 6.0], [5.0, 4.0] * 4
    assert judge(case(few)).latest == 6.0
    assert judge(Case([], [], Limits(), watch([], []))).latest is None
    verdict = judge(case(enough))
    assert (verdict.state, verdict.latest, verdict.usual) == (Steadiness.STEADY, 4.0, 4.5)


def test_one_run_is_odd_beyond_four_and_a_half_standard_deviations() -> None:
    """Either way; at the bound it is not yet."""
    level = [5.0, 4.0] * 5
    states = [judge(case(level, score)).state for score in (4.5, 4.51, -4.5, -4.51)]
    assert states == [
        Steadiness.STEADY,
        Steadiness.OUT_OF_CONTROL,
        Steadiness.STEADY,
        Steadiness.OUT_OF_CONTROL,
    ]
    verdict = judge(case([*level[:-1], 9.0], 4.51))
    assert verdict.since == 9 * MONTH
    assert verdict.moved_by == pytest.approx(9.0 - 5.0)


@pytest.mark.parametrize(("runs", "state"), [(9, Steadiness.STEADY), (10, Steadiness.DRIFTING)])
def test_a_slow_trend_is_believed_below_one_in_ten_thousand(runs: int, state: Steadiness) -> None:
    """All rising: S = 36, variance 92, p = 2.6e-4 of nine; S = 45, variance 125, p = 8.3e-5 of ten."""
    assert judge(case([40.0 + run for run in range(runs)])).state is state


@pytest.mark.parametrize(
    ("ahead", "state"),
    [(-1.0, Steadiness.DRIFTING), (11.9, Steadiness.DRIFTING), (12.1, Steadiness.STEADY)],
)
@pytest.mark.parametrize("way", [1.0, -1.0])
def test_a_slow_trend_matters_when_its_limit_is_a_year_away(
    ahead: float, state: Steadiness, way: float
) -> None:
    """One unit a month, and a limit so many units beyond the last value."""
    values = [way * (40.0 + run) for run in range(12)]
    limit = values[-1] + way * ahead
    limits = Limits(high=limit) if way > 0 else Limits(low=limit)
    verdict = judge(case(values, limits=limits))
    assert verdict.state is state
    if state is Steadiness.DRIFTING:
        assert verdict.sign is Sign.TREND
        assert verdict.per_month == pytest.approx(way)
        assert verdict.usual == pytest.approx(way * 40.0)
        assert verdict.moved_by == pytest.approx(way * 11.0)


@pytest.mark.parametrize(("a_month", "state"), [(1.6, Steadiness.STEADY), (1.7, Steadiness.DRIFTING)])
@pytest.mark.parametrize("way", [1.0, -1.0])
def test_a_slow_trend_without_a_limit_matters_from_a_fifth_in_a_year(
    a_month: float, state: Steadiness, way: float
) -> None:
    """Of a level of 100: 19.2 a year do not, 20.4 do; a limit on the other side is none."""
    values = [100.0 + way * a_month * run for run in range(12)]
    limits = Limits(low=0.0) if way > 0 else Limits(high=500.0)
    assert judge(case(values, limits=limits)).state is state
