"""How long a breaker bears too much."""

from math import inf

import pytest

from runner.airplane.electric.trip import DEFAULT_TRIP, trip_seconds


def test_a_breaker_holds_a_little_too_much_for_ever() -> None:
    """115 % is held by aircraft thermal breakers (from memory)."""
    assert trip_seconds(DEFAULT_TRIP, 10, 10) == inf
    assert trip_seconds(DEFAULT_TRIP, 10, 11.5) == inf


def test_138_percent_opens_within_the_hour_and_twice_within_half_a_minute() -> None:
    """The two points that specifications of such breakers have in common (from memory)."""
    assert trip_seconds(DEFAULT_TRIP, 10, 13.8) == pytest.approx(3600)
    assert trip_seconds(DEFAULT_TRIP, 10, 20) == pytest.approx(30)


def test_more_current_never_takes_longer_and_direction_does_not_count() -> None:
    """Along the curve and beyond its last row."""
    times = [trip_seconds(DEFAULT_TRIP, 5, amps) for amps in (7, 8, 10, 15, 20, 40, 60, 100)]
    assert times == sorted(times, reverse=True)
    assert trip_seconds(DEFAULT_TRIP, 5, -10) == trip_seconds(DEFAULT_TRIP, 5, 10)
    assert times[-1] == DEFAULT_TRIP[-1][1]


def test_between_rows_it_is_straight_on_log_log_paper() -> None:
    """Half way in the logarithms: 282.8 % between 200 and 400 %."""
    assert trip_seconds(DEFAULT_TRIP, 100, 282.8427) == pytest.approx((30 * 3.5) ** 0.5, rel=1e-5)
