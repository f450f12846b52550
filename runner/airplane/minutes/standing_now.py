"""A parked battery: days until the hot bus empties it, and the rest that its volts want."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import inf, log
from typing import Final

from runner.airplane.electric.current_network import Electric
from runner.airplane.minutes.capacity import Conditions, Health, health_of, percent_now, usable
from runner.airplane.minutes.cell import ohms
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import on_battery
from runner.airplane.model.source import Battery
from runner.airplane.model.wiring import Phase

RECOVERY_MINUTES: Final = 4.0
"""In which all but a third of a load's sag beyond plain resistance comes back; ours (common practice: some
minutes without load before a rested voltage is read)."""
METER_VOLTS: Final = 0.05
"""Half a step of a meter that shows tenths."""
TEST_DAYS: Final = {Health.NORMAL: 365, Health.SHORTER: 182, Health.FAILED: 0, Health.UNFIT: 0}
"""Days from one capacity test to the next: yearly (USBR FIST 3-6 p. 45), by halves between 85 and 90 % of
rated (ours; CMM 24-30-27 says "shorter"), at once when it failed. The maker's manual decides."""


@dataclass(frozen=True, slots=True)
class Drain:
    """What the selector's parked position takes."""

    amps: float
    days: float
    """Until nothing may be counted on; infinite when nothing draws."""


def parked_drain(airplane: Airplane, conditions: Conditions) -> Drain:
    """Drain of the first battery with everything else off, every load at its duty in a check."""
    parked = on_battery(airplane, airplane.selector.parked)
    amps = Electric(airplane, Phase.CHECK).solve(parked).source_amps[airplane.battery.name]
    hours = usable(airplane.battery, conditions).ampere_hours / amps if amps > 0 else inf
    return Drain(amps, hours / 24)


def next_test(battery: Battery, on: date) -> date:
    """The day by which the battery's capacity wants to be tested again."""
    return battery.tested.on + timedelta(days=TEST_DAYS[health_of(percent_now(battery, on))])


def recovery_minutes(battery: Battery, charge: float, celsius: float, amps: float) -> float:
    """Minutes without load until a voltage stands within half a step of a meter of where it comes to rest."""
    behind = amps * ohms(battery, charge, celsius)
    return RECOVERY_MINUTES * log(behind / METER_VOLTS) if behind > METER_VOLTS else 0.0
