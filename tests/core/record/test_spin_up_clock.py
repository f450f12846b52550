import pytest

from runner.checklist.kind.spin_up import SpinUp
from runner.core.answer_origin import Reception
from runner.core.record.entry import ClockAdvised, ClockEnded, ClockLimitPassed
from runner.core.record.spin_up_clock import (
    SpinUpClock,
    due_entries,
    seconds_between,
)
from runner.language.catalogue import Outcome
from tests.core.sample import response

BODY = SpinUp("left gyro", "reserve", response("pulled"), response("stuck", Outcome.SQUAWK), 30.0, 60.0)
ENDED = ClockEnded(
    140.0, "left", 40.0, is_pulled=True, outcome=Outcome.CAUTION, reception=Reception("", 1.0, "keys")
)


@pytest.mark.parametrize("epoch", [0.0, 1_700_000_000.0, 4_000_000_000.0])
@pytest.mark.parametrize("seconds", [0.1, 29.999, 30.0, 59.9])
def test_spans_are_whole_milliseconds_at_any_epoch(epoch: float, seconds: float) -> None:
    """Doubles near today's epoch are 2.4e-7 s apart (IEEE 754), which must not decide about a limit."""
    assert seconds_between(epoch, epoch + seconds) == seconds


@pytest.mark.parametrize(
    ("seconds", "is_pulled", "outcome"),
    [
        (30.0, True, Outcome.PASS),
        (30.001, True, Outcome.CAUTION),
        (60.0, True, Outcome.CAUTION),
        (60.001, True, Outcome.SQUAWK),
        (10.0, False, Outcome.SQUAWK),
    ],
)
def test_a_spin_up_is_judged(seconds: float, *, is_pulled: bool, outcome: Outcome) -> None:
    """Up to the advise time, up to the limit, beyond it, or stuck."""
    assert BODY.outcome(seconds, is_pulled=is_pulled) is outcome


def test_an_open_clock_tells_the_time_since_power_on() -> None:
    """And never less than none."""
    clock = SpinUpClock("left", 100.0)
    assert (clock.is_open, clock.elapsed(112.5), clock.elapsed(90.0)) == (True, 12.5, 0.0)


def test_an_ended_clock_tells_its_end() -> None:
    """Whatever time it is."""
    clock = SpinUpClock("left", 100.0, ended=ENDED)
    assert (clock.is_open, clock.elapsed(500.0)) == (False, 40.0)


def test_a_clock_comes_due_at_its_advise_time_and_its_limit() -> None:
    """Once each; an ended one never."""
    clock = SpinUpClock("left", 100.0)
    assert due_entries(clock, BODY, 129.9) == ()
    assert due_entries(clock, BODY, 130.0) == (ClockAdvised(130.0, "left"),)
    assert due_entries(clock, BODY, 160.0) == (ClockAdvised(160.0, "left"), ClockLimitPassed(160.0, "left"))
    assert due_entries(SpinUpClock("left", 100.0, is_advised=True), BODY, 140.0) == ()
    assert due_entries(SpinUpClock("left", 100.0, is_advised=True, is_limit_passed=True), BODY, 999.0) == ()
    assert due_entries(SpinUpClock("left", 100.0, ended=ENDED), BODY, 999.0) == ()
