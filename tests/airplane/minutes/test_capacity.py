"""Capacity: tests and limits, Peukert, and what may be counted on."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.airplane.minutes.capacity import (
    Conditions,
    Health,
    capacity_percent,
    health_of,
    percent_now,
    planned_conditions,
    rate_share,
    usable,
)
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.source import Battery, CapacityTest, Chemistry, Tolerance

BATTERY = Battery(
    name="battery",
    bus="hot bus",
    chemistry=Chemistry.LEAD_ACID,
    cells=12,
    ampere_hours=40,
    hour_rate=1,
    end_volts=20,
    peukert=1.2,
    tested=CapacityTest(100, date(2026, 1, 1)),
    fade_percent_per_year=0,
    charge_percent=100,
    celsius=25,
    temperature_shares=(),
    tolerance=Tolerance(),
)


def test_a_capacity_test_is_measured_over_rated() -> None:
    """Battery maker's manual Doc 5-0324 Rev G p. 20: 38 of 42 is 90 % (90.48), 32 of 40 is 80 %."""
    assert capacity_percent(38, 42) == pytest.approx(90.48, abs=0.005)
    assert capacity_percent(32, 40) == pytest.approx(80.0)


def test_a_one_hour_rating_fails_under_51_minutes_and_is_unfit_under_48() -> None:
    """85 % and 80 % of 60 min (worked from the two limits below)."""
    assert health_of(capacity_percent(50.9, 60)) is Health.FAILED
    assert health_of(capacity_percent(51, 60)) is Health.SHORTER
    assert health_of(capacity_percent(47.9, 60)) is Health.UNFIT
    assert health_of(capacity_percent(48, 60)) is Health.FAILED


@pytest.mark.parametrize(
    ("percent", "health"),
    [
        (95, Health.NORMAL),
        (90.5, Health.NORMAL),
        (90, Health.SHORTER),
        (85, Health.SHORTER),
        (84.9, Health.FAILED),
        (80, Health.FAILED),
        (79.9, Health.UNFIT),
    ],
)
def test_health_follows_the_published_limits(percent: float, health: Health) -> None:
    """CMM 24-30-27: over 90, 90 to 85, under 85; USBR FIST 3-6 p. 45: under 80 is not to be relied upon."""
    assert health_of(percent) is health


def _hours(ampere_hours: float, hour_rate: float, exponent: float, amps: float) -> float:
    """How long the counted capacity lasts at a steady current above the rated one."""
    battery = replace(BATTERY, ampere_hours=ampere_hours, hour_rate=hour_rate, peukert=exponent)
    return float(rate_share(battery, np.array([amps]))[0] * ampere_hours / amps)


def test_peukert_gives_the_published_hours_of_a_one_ampere_rating() -> None:
    """electrotechnik.net 2010: C_p = 100 at 1 A, k = 1.2, 5 A lasts 14.5 h (14.4956)."""
    assert _hours(100, 100, 1.2, 5) == pytest.approx(14.4956, abs=5e-5)


def test_peukert_gives_the_published_hours_and_capacity_at_twenty_amperes() -> None:
    """easycalculation.com: C = 250 at 1 A, n = 1.3, 20 A lasts 5.088632 h and gives 101.772633 Ah."""
    hours = _hours(250, 250, 1.3, 20)
    assert hours == pytest.approx(5.088632, abs=5e-7)
    assert hours * 20 == pytest.approx(101.772633, abs=1e-5)


@pytest.mark.parametrize(("exponent", "hours"), [(1.2, 8.7055), (1.3, 8.1225)])
def test_peukert_works_at_the_battery_s_own_hour_rate(exponent: float, hours: float) -> None:
    """T = R (C/(I R))^k for 100 Ah at 20 h and 10 A; worked out from the formula, as the tables' own rate."""
    assert _hours(100, 20, exponent, 10) == pytest.approx(hours, abs=5e-5)


@given(st.floats(0, 40))
def test_a_slower_discharge_never_claims_more_than_rated(amps: float) -> None:
    """Aircraft batteries are rated at one hour (army OD1633 text); below that Peukert would promise more."""
    assert rate_share(BATTERY, np.array([amps]))[0] == 1.0


def test_capacity_fades_from_the_test_on() -> None:
    """Half a year at 6 % a year takes 3 % off; a test in the future takes nothing."""
    fading = replace(BATTERY, tested=CapacityTest(95, date(2026, 1, 1)), fade_percent_per_year=6)
    assert percent_now(fading, date(2026, 7, 2)) == pytest.approx(92.0, abs=0.02)
    assert percent_now(fading, date(2025, 1, 1)) == 95
    assert percent_now(fading, date(2126, 1, 1)) == 0


def test_a_test_over_the_rating_counts_as_the_rating() -> None:
    """No claim goes beyond the label."""
    assert percent_now(replace(BATTERY, tested=CapacityTest(112, date(2026, 1, 1))), date(2026, 1, 1)) == 100


def test_the_seventy_five_percent_factor_gives_26_25_ampere_hours() -> None:
    """STC installation manual 190-02246-10 Rev 11 p. 3-38: 0.75 of 35 Ah, for age and charge."""
    battery = replace(BATTERY, ampere_hours=35)
    assert usable(battery, Conditions(date(2026, 1, 1), 75, 25)).ampere_hours == pytest.approx(26.25)


def test_eighty_percent_of_the_label_at_ninety_percent_charge_is_72_percent() -> None:
    """UK CAA CAP 747 (GR No. 4) allowance: 0.8 of nameplate times 0.9 of charge (value from memory)."""
    battery = replace(BATTERY, tested=CapacityTest(80, date(2026, 1, 1)))
    found = usable(battery, Conditions(date(2026, 1, 1), 90, 25))
    assert found.ampere_hours / battery.ampere_hours == pytest.approx(0.72)


def test_usable_never_exceeds_rated(shipped: Airplane) -> None:
    """Each share is at most one."""
    battery = shipped.battery
    given_by = usable(battery, replace(planned_conditions(battery, battery.tested.on), celsius=45.0))
    assert given_by.ampere_hours <= battery.ampere_hours
    assert given_by.temperature == 1.0
