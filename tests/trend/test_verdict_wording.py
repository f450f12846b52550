from dataclasses import replace

import pytest

from runner.trend.judged_series import trend_of
from runner.trend.series import Limits, Maintenance, Quantity
from runner.trend.verdict_wording import line, spoken
from tests.trend.sample import STARTED_AT, WEEK, gyro, rise, step


def test_steady_and_too_few_are_said_with_the_runs_and_the_maintenance() -> None:
    """Since when a baseline counts is part of the verdict."""
    assert line(trend_of(gyro(12))) == "steady over 12 runs"
    assert line(trend_of(gyro(3))) == "too few runs to tell: 3 of at least 8"
    replaced = Maintenance(STARTED_AT + 9.5 * WEEK, "gyro replaced")
    judged = trend_of(gyro(12), [replaced])
    assert line(judged) == "too few runs to tell: 2 of at least 8 since gyro replaced on 2025-03-08"


def test_a_drift_is_told_in_seconds_a_month_with_the_month_of_its_limit() -> None:
    """And that no temperatures were known."""
    words = line(trend_of(gyro(40, added=rise(20, 1.0))))
    assert words.startswith("drifting since 2025-0")
    assert "seconds a month longer (95 %: " in words
    assert "; limit of 80 seconds about March 2026 (" in words
    assert words.endswith("no temperatures on record, weather may be why")


def test_a_limit_out_of_sight_passed_or_absent_is_said_so() -> None:
    """No date is given for what lies more than five years off."""
    drifting = gyro(40, added=rise(20, 1.0))
    said = {
        limit: line(trend_of(replace(drifting, limits=Limits(high=limit)))) for limit in (5000.0, 50.0, None)
    }
    assert "limit of 5000 seconds is more than five years away" in said[5000.0]
    assert "limit of 50 seconds is passed now" in said[50.0]
    assert "limit" not in said[None]
    falling = line(trend_of(gyro(40, added=lambda run: -rise(20, 1.0)(run))))
    assert "seconds a month shorter (95 %: " in falling
    assert "no limit lies on the shorter side" in falling


def test_out_of_control_says_by_how_much_and_asks_for_the_maintenance() -> None:
    """A step since a day, or the last run alone."""
    words = line(trend_of(gyro(34, added=step(20, 5.0))))
    assert words.startswith("out of control: ")
    assert "seconds longer than usual since 2025-05-21; if work was done then, record it" in words
    alone = line(trend_of(gyro(30, added=lambda run: 10.0 * (run == 29))))
    assert "out of control: the last run is " in alone


def test_nothing_is_spoken_when_nothing_moved() -> None:
    """Silence is for the steady and for the unknown."""
    assert spoken([trend_of(gyro(20)), trend_of(gyro(3))]) is None


def test_one_sentence_names_the_most_pressing_digit_by_digit() -> None:
    """The one whose limit is nearest; the others are counted."""
    far = trend_of(replace(gyro(40, added=rise(20, 1.0)), limits=Limits(high=300.0)))
    near = trend_of(replace(gyro(40, added=rise(20, 1.0)), name="right gyro"))
    moved = trend_of(replace(gyro(34, added=step(20, 5.0)), name="sag", quantity=Quantity.SAG, unit="volts"))
    words = spoken([far, moved, near])
    assert words is not None
    assert words.startswith("Right gyro, four decimal ")
    assert "seconds a month longer, limit reached in about five months, and two more have moved." in words
    assert spoken([moved, far]) == (spoken([far]) or "")[:-1] + ", and one more has moved."
    alone = spoken([moved])
    assert alone is not None
    assert alone.endswith("volts more than usual for some runs now.")


def test_no_word_says_that_an_airplane_is_safe() -> None:
    """The tool advises; others decide."""
    every = (gyro(3), gyro(20), gyro(40, added=rise(20, 1.0)), gyro(34, added=step(20, 5.0)))
    for series in every:
        words = f"{line(trend_of(series))} {spoken([trend_of(series)])}"
        assert "safe" not in words
        assert "fit" not in words


def test_a_limit_that_is_passed_is_spoken_as_passed() -> None:
    """By the drift's own line, or by the last value alone: neither is a month away."""
    drifting = gyro(40, added=rise(20, 1.0))
    by_line = spoken([trend_of(replace(drifting, limits=Limits(high=50.0)))])
    assert by_line is not None
    assert by_line.endswith("seconds a month longer, past its limit.")
    last = drifting.points[-1]
    odd = (*drifting.points[:-1], replace(last, value=63.0))
    by_value = trend_of(replace(drifting, points=odd, limits=Limits(high=62.0)))
    assert by_value.verdict.reach is not None
    assert by_value.verdict.reach.about > last.at
    assert (spoken([by_value]) or "").endswith("seconds a month longer, past its limit.")
    assert "; limit of 62 seconds is passed now" in line(by_value)


def test_a_falling_value_passes_its_lower_limit() -> None:
    """The same the other way down."""
    falling = gyro(40, added=lambda run: -rise(20, 1.0)(run))
    odd = (*falling.points[:-1], replace(falling.points[-1], value=17.0))
    passed = trend_of(replace(falling, points=odd, limits=Limits(low=18.0)))
    assert (spoken([passed]) or "").endswith("seconds a month shorter, past its limit.")
    still = trend_of(replace(falling, points=odd, limits=Limits(low=17.0)))
    assert (spoken([still]) or "").endswith("limit reached in about a month.")


def test_a_limit_that_is_passed_comes_before_one_that_is_near() -> None:
    """A value beyond its limit is the most pressing, whatever the lines say."""
    near = gyro(40, added=rise(20, 1.0))
    near = replace(near, name="near", limits=Limits(high=60.5))
    odd = (*near.points[:-1], replace(near.points[-1], value=71.0))
    passed = replace(near, name="passed", points=odd, limits=Limits(high=70.0))
    words = spoken([trend_of(near), trend_of(passed)])
    assert words is not None
    assert words.startswith("Passed, ")
    assert words.endswith("past its limit, and one more has moved.")


@pytest.mark.parametrize("end", ["per_month_low", "per_month_high"])
def test_a_slope_without_an_interval_says_why(end: str) -> None:
    """Neither end is told without the other."""
    known = trend_of(gyro(40, added=rise(20, 1.0)))
    verdict = replace(known.verdict, **{end: None})  # type: ignore[arg-type]  # both are numbers or None
    words = line(replace(known, verdict=verdict))
    assert "seconds a month longer (too few runs for an interval); limit of 80 seconds about" in words
