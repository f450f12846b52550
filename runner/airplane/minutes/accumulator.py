"""A battery as time goes on: its charge by what is drawn or put in, its temperature by its own losses.

Charge counts against what may be used: rated capacity by test and temperature, wasted faster over the rated
current (Peukert). Mass and heat coefficients are ours.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from runner.airplane.electric.flow import BatteryState
from runner.airplane.minutes.capacity import percent_now, rate_share
from runner.airplane.minutes.cell import ohms
from runner.airplane.minutes.temperature import temperature_share
from runner.airplane.model.source import Battery, Chemistry, nominal_volts

WATT_HOURS_PER_KILOGRAM: Final = {
    Chemistry.LEAD_ACID: 25.0,
    Chemistry.NICKEL_CADMIUM: 25.0,
    Chemistry.LITHIUM_IRON: 90.0,
}
"""Of whole aircraft batteries, case included; ours."""
JOULES_PER_KILOGRAM_KELVIN: Final = 900.0
COOLING_HOURS: Final = 5.0
"""In which a battery loses most of its extra warmth to its bay; ours."""
CHARGE_EFFICIENCY: Final = 0.9
"""Ampere-hours stored over ampere-hours put in; ours."""


@dataclass(frozen=True, slots=True)
class Accumulator:
    """A battery with what of it may be counted on."""

    battery: Battery
    health: float
    """Capacity on the day over rated, 0 to 1."""
    bay_celsius: float

    def after(self, state: BatteryState, amps: float, minutes: float) -> BatteryState:
        """Its state once a current has flowed for some minutes; amperes into it are negative."""
        return BatteryState(
            charge=min(1.0, state.charge + self._charge_rate(state, amps) * minutes / 60),
            celsius=state.celsius + self._warming_rate(state, amps) * minutes / 60,
        )

    def ampere_hours(self, celsius: float) -> float:
        """What it would give from full at its rated current; its own warmth never counts for more."""
        counted = min(celsius, self.bay_celsius)
        share = float(temperature_share(self.battery, np.array([counted]))[0])
        return max(1e-9, self.battery.ampere_hours * self.health * share)

    def _charge_rate(self, state: BatteryState, amps: float) -> float:
        """Share of its charge gained in an hour."""
        if amps < 0:
            return -amps * CHARGE_EFFICIENCY / self.ampere_hours(state.celsius)
        given = float(rate_share(self.battery, np.array([amps]))[0])
        return -amps / (self.ampere_hours(state.celsius) * given)

    def _warming_rate(self, state: BatteryState, amps: float) -> float:
        """Kelvin in an hour."""
        battery = self.battery
        kilograms = battery.ampere_hours * nominal_volts(battery) / WATT_HOURS_PER_KILOGRAM[battery.chemistry]
        watts = amps * amps * ohms(battery, state.charge, state.celsius)
        lost = (state.celsius - self.bay_celsius) / COOLING_HOURS
        return watts * 3600 / (kilograms * JOULES_PER_KILOGRAM_KELVIN) - lost


def accumulator(battery: Battery, on: date, bay_celsius: float) -> Accumulator:
    """A battery as it is on a day."""
    return Accumulator(battery, percent_now(battery, on) / 100, bay_celsius)
