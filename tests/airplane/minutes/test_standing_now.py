"""A parked airplane: the hot bus, the next capacity test, and the rest that volts want."""

from dataclasses import replace
from datetime import date
from math import exp

import pytest

from runner.airplane.minutes.capacity import Conditions
from runner.airplane.minutes.standing_now import (
    METER_VOLTS,
    RECOVERY_MINUTES,
    next_test,
    parked_drain,
    recovery_minutes,
)
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.source import CapacityTest

ON = date(2026, 3, 1)


def test_days_are_ampere_hours_over_the_hot_bus_amps(merlow: Airplane) -> None:
    """1.3 A on the hot bus: 36 Ah by the last test, over 1.3 A, over 24."""
    drain = parked_drain(merlow, Conditions(merlow.battery.tested.on, 100, 23))
    assert drain.amps == pytest.approx(1.3, abs=1e-3)
    assert drain.days == pytest.approx(36 * 0.96 / 1.3 / 24, rel=1e-3)


def test_a_hot_bus_that_draws_nothing_never_empties_it(small: Airplane) -> None:
    """The small airplane has no load on its hot bus."""
    assert parked_drain(small, Conditions(ON, 100, 25)).days > 10_000


@pytest.mark.parametrize(
    ("percent", "due"), [(98, date(2027, 1, 1)), (88, date(2026, 7, 2)), (78, date(2026, 1, 1))]
)
def test_the_next_capacity_test_comes_sooner_the_weaker_it_is(
    small: Airplane, percent: float, due: date
) -> None:
    """Yearly (USBR FIST 3-6 p. 45), sooner from 90 % down (CMM 24-30-27), at once under 85 %."""
    battery = replace(small.battery, tested=CapacityTest(percent, date(2026, 1, 1)))
    assert next_test(battery, ON) == due


def test_a_light_load_needs_no_wait_and_a_heavy_one_some_minutes(small: Airplane) -> None:
    """Common practice, no source: a rested voltage wants some minutes without load."""
    assert recovery_minutes(small.battery, 1.0, 25, 1.0) == 0
    wait = recovery_minutes(small.battery, 0.9, 5, 30.0)
    assert 2 < wait < 30
    assert recovery_minutes(small.battery, 0.9, 5, 60.0) > wait


def test_after_the_wait_the_meter_cannot_tell(small: Airplane) -> None:
    """What is still missing is half a step of the meter."""
    wait = recovery_minutes(small.battery, 1.0, 25, 30.0)
    assert 30.0 * 0.012 * exp(-wait / RECOVERY_MINUTES) == pytest.approx(METER_VOLTS)
