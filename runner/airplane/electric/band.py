"""What a voltage is worth: the charge that a meter's reading shows, and the minutes that this charge allows.

A band means something when its lowest value still lets the required minutes hold. A nickel-cadmium or lithium
battery hides its charge while it is full; what a low reading says of it is true all the same.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from runner.airplane.electric.current_network import Electric
from runner.airplane.electric.flow import BatteryState
from runner.airplane.electric.trait import Draw
from runner.airplane.minutes.capacity import Conditions, planned_conditions
from runner.airplane.minutes.chance import spread_of
from runner.airplane.minutes.reckoning import demand, endurance
from runner.airplane.minutes.stamina import stamina
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import on_battery
from runner.airplane.model.wiring import Phase

SAMPLES: Final = 4_000
"""Enough for the low case within half a minute."""
HALVINGS: Final = 12


@dataclass(frozen=True, slots=True)
class Worth:
    """Minutes on the battery."""

    best: float
    """Every figure as stated."""
    low: float
    """In the low case."""


@dataclass(frozen=True, slots=True)
class Floors:
    """The lowest volts of a band's two parts; None where even a full battery is not enough."""

    passing: float | None
    """From here on the required minutes hold in the low case."""
    caution: float | None
    """From here on they hold at best."""


class Meter:
    """An airplane's battery voltmeter, on the battery alone, on one day."""

    def __init__(self, airplane: Airplane, on: date) -> None:
        self._airplane, self._on = airplane, on
        self._needs = demand(airplane, airplane.endurance.positions)
        self._electric = Electric(airplane, Phase.CHECK)
        self._share = _by_volts(airplane, self._conditions(1.0)) if _is_voltage_bound(airplane) else 1.0

    def volts(self, position: str, charge: float) -> float:
        """What it shows in a selector position at a charge of 0 to 1, loads at their duty in a check."""
        battery = self._airplane.battery
        states = {battery.name: BatteryState(charge, battery.celsius)}
        return self._electric.solve(on_battery(self._airplane, position), states).volts[battery.bus]

    def charge(self, position: str, volts: float) -> float:
        """The charge at which it shows these volts, 0 to 1."""
        return _least(lambda charge: self.volts(position, charge) >= volts) or 0.0

    def worth(self, position: str, volts: float) -> Worth:
        """Minutes that a reading allows."""
        return self._worth(self.charge(position, volts))

    def floors(self, position: str) -> Floors:
        """The lowest readings that let the required minutes hold."""
        required = self._airplane.endurance.required_minutes
        low = _least(lambda charge: self._worth(charge).low >= required)
        best = _least(lambda charge: self._worth(charge).best >= required)
        return Floors(
            None if low is None else self.volts(position, low),
            None if best is None else self.volts(position, best),
        )

    def _conditions(self, charge: float) -> Conditions:
        return replace(planned_conditions(self._airplane.battery, self._on), charge_percent=charge * 100)

    def _worth(self, charge: float) -> Worth:
        airplane, conditions = self._airplane, self._conditions(charge)
        best = endurance(airplane, conditions, airplane.endurance).total_minutes
        spread = spread_of(airplane.battery, conditions, self._needs, airplane.endurance, samples=SAMPLES)
        return Worth(best * self._share, spread.low * self._share)


def _least(is_enough: Callable[[float], bool]) -> float | None:
    """The least charge that is enough; None when a full one is not."""
    if not is_enough(1.0):
        return None
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if is_enough(middle) else (middle, high)
    return high


def _is_voltage_bound(airplane: Airplane) -> bool:
    """Whether volts change the minutes at all: by a floor, or by a load that draws with its volts."""
    return any(
        load.traits.drop_out_volts > 0 or load.traits.draw is not Draw.CURRENT
        for load in airplane.loads.values()
    )


def _by_volts(airplane: Airplane, conditions: Conditions) -> float:
    """Minutes by rundown over ampere-minutes, from a full battery, 1 at the most."""
    plain = endurance(airplane, conditions, airplane.endurance).total_minutes
    return min(1.0, stamina(airplane, conditions, airplane.endurance).minutes / max(plain, 1e-9))
