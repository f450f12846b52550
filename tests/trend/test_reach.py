import pytest

from runner.trend.monotone import Slope
from runner.trend.reach import level_at, reach
from runner.trend.series import Limits

TIMES, VALUES = (0.0, 1.0, 2.0, 3.0, 4.0), (10.0, 11.0, 12.0, 13.0, 14.0)


def test_a_straight_rise_meets_its_limit_when_arithmetic_says() -> None:
    """From 14 at 4 to 20 at one a unit of time: at 10; the interval's ends turn about the middle point."""
    met = reach(TIMES, VALUES, Slope(1.0, 10.0, 0.5, 2.0), Limits(low=0.0, high=20.0))
    assert met is not None
    assert (met.limit, met.about) == (20.0, 10.0)
    assert met.earliest == pytest.approx(4 + (20 - 16) / 2)
    assert met.latest == pytest.approx(4 + (20 - 13) / 0.5)


def test_a_fall_heads_for_the_low_limit() -> None:
    """And its steepest end comes first."""
    met = reach(TIMES, VALUES[::-1], Slope(-1.0, 14.0, -2.0, -0.5), Limits(low=4.0))
    assert met is not None
    assert (met.limit, met.about) == (4.0, 10.0)
    assert met.latest is not None
    assert met.earliest < met.about < met.latest


def test_a_slope_that_may_be_none_leaves_the_end_open() -> None:
    """Its lower end goes the other way, or is not known."""
    for lower in (-0.1, None):
        met = reach(TIMES, VALUES, Slope(1.0, 10.0, lower, 2.0), Limits(high=20.0))
        assert met is not None
        assert met.latest is None


def test_a_limit_that_is_behind_is_met_now() -> None:
    """Nothing is reached in the past."""
    met = reach(TIMES, VALUES, Slope(1.0, 10.0, None, None), Limits(high=12.0))
    assert met is not None
    assert (met.about, met.earliest) == (4.0, 4.0)


def test_no_limit_ahead_or_no_slope_is_never_met() -> None:
    """A rise away from a low limit."""
    assert reach(TIMES, VALUES, Slope(1.0, 10.0, None, None), Limits(low=4.0)) is None
    assert reach(TIMES, VALUES, Slope(0.0, 12.0, None, None), Limits(high=20.0)) is None


def test_the_line_halves_the_points() -> None:
    """One wild point does not lift it."""
    assert level_at(4.0, TIMES, (10.0, 11.0, 99.0, 13.0, 14.0), 1.0) == 14.0
