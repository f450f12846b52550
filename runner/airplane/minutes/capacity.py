"""Capacity: how many ampere-hours of a battery may be counted on, and how fast a heavy load wastes them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from runner.airplane.minutes.temperature import temperature_share
from runner.airplane.model.source import Battery

DAYS_PER_YEAR: Final = 365.25


class Health(StrEnum):
    """What a capacity test says of a battery; makers' manuals and the mechanic decide.

    USBR FIST 3-6 p. 45: under 80 % it "cannot be relied upon in an emergency".
    CMM 24-30-27: under 85 % fails, 85 to 90 % is tested at shorter intervals.
    """

    NORMAL = "normal test interval"
    SHORTER = "test at shorter intervals"
    FAILED = "fails the maker's 85 %"
    UNFIT = "under 80 %: replace; not to be relied upon in an emergency"


@dataclass(frozen=True, slots=True)
class Conditions:
    """When and how the battery is asked."""

    on: date
    charge_percent: float
    """Percent of what it can hold."""
    celsius: float


@dataclass(frozen=True, slots=True)
class Usable:
    """Ampere-hours that may be counted on, and the shares that lead to them."""

    rated: float
    health: float
    """From the capacity test and the years since, 0 to 1."""
    temperature: float
    charge: float

    @property
    def ampere_hours(self) -> float:
        """Rated capacity times each share."""
        return self.rated * self.health * self.temperature * self.charge


def planned_conditions(battery: Battery, on: date) -> Conditions:
    """The conditions that the airplane's file plans with."""
    return Conditions(on, battery.charge_percent, battery.celsius)


def capacity_percent(measured_minutes: float, rated_minutes: float) -> float:
    """A capacity test's result: measured minutes over rated minutes, times 100 (USBR FIST 3-6 p. 45)."""
    return measured_minutes / rated_minutes * 100


def health_of(percent: float) -> Health:
    """What a capacity test's percentage means."""
    if percent < 80:  # noqa: PLR2004 - USBR FIST 3-6
        return Health.UNFIT
    if percent < 85:  # noqa: PLR2004 - CMM 24-30-27
        return Health.FAILED
    return Health.SHORTER if percent <= 90 else Health.NORMAL  # noqa: PLR2004 - CMM 24-30-27


def percent_now(battery: Battery, on: date) -> float:
    """Capacity on a day, percent of rated: the last test less what has faded since, never over 100."""
    years = max(0.0, (on - battery.tested.on).days / DAYS_PER_YEAR)
    return max(0.0, min(100.0, battery.tested.percent) - battery.fade_percent_per_year * years)


def usable(battery: Battery, conditions: Conditions) -> Usable:
    """What may be counted on in the given conditions."""
    share = temperature_share(battery, np.array([conditions.celsius]))
    return Usable(
        rated=battery.ampere_hours,
        health=percent_now(battery, conditions.on) / 100,
        temperature=float(share[0]),
        charge=conditions.charge_percent / 100,
    )


def rate_share(battery: Battery, amps: NDArray[np.float64]) -> NDArray[np.float64]:
    """Share of the capacity that a steady current can draw, by Peukert at the battery's own hour rate.

    Clamped at 1: a slower discharge never claims more than rated.
    """
    rated_amps = battery.ampere_hours / battery.hour_rate
    share: NDArray[np.float64] = (rated_amps / np.maximum(amps, rated_amps)) ** (battery.peukert - 1)
    return share
