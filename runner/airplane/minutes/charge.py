"""Charge from open-circuit voltage: a band for a rested lead-acid battery, and nothing at all for any other.

Two published tables at about 25 C differ, so the answer spans both: BCI's five rows (as cited at
studylib.net/doc/18054160) and an inverter maker's Table B-6 (portablemedia.manualsonline.com, dr2424 p. 107).
A sealed aircraft battery reads higher when full; its maker's manual governs.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from runner.airplane.model.source import Battery, Chemistry

RESTED_HOURS: Final = 3.0
"""Table B-6 holds after at least three hours at rest."""
MOST_VOLTS_PER_CELL: Final = 2.2
"""Above it nothing is at rest: a full cell shows 2.12 to 2.15 V (BCI), a sealed one a little more."""
METER_VOLTS: Final = 0.05
"""Half a step of a meter that shows tenths."""
BCI: Final = ((11.89, 0), (12.06, 25), (12.24, 50), (12.45, 75), (12.65, 100))
TABLE_B6: Final = (
    (11.6, 10),
    (11.7, 20),
    (11.8, 30),
    (12.0, 40),
    (12.1, 50),
    (12.2, 60),
    (12.3, 70),
    (12.5, 80),
    (12.6, 90),
    (12.7, 100),
)
"""(Volts of a 12 V battery, percent of charge); under the first row Table B-6 says no more than "below"."""


@dataclass(frozen=True, slots=True)
class ChargeBand:
    """Percent of charge that a voltage allows."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class NoCharge:
    """Why a voltage says nothing about charge."""

    cause: str


def charge_from_volts(battery: Battery, volts: float, rested_hours: float) -> ChargeBand | NoCharge:
    """The band of charge that an open-circuit voltage allows, when it allows one."""
    if battery.chemistry is not Chemistry.LEAD_ACID:
        return NoCharge(
            f"the voltage of a {battery.chemistry} battery does not show its charge; test its capacity"
        )
    if rested_hours < RESTED_HOURS:
        return NoCharge(
            f"rested {rested_hours:g} h; voltage shows charge only after {RESTED_HOURS:g} h or more"
        )
    if volts > MOST_VOLTS_PER_CELL * battery.cells:
        return NoCharge(f"{volts:g} V is no battery at rest; something charges it")
    for_12_volts = 6 / battery.cells
    low, high = (volts - METER_VOLTS) * for_12_volts, (volts + METER_VOLTS) * for_12_volts
    return ChargeBand(min(_percents(low)), max(_percents(high)))


def _percents(volts: float) -> tuple[float, float]:
    bci, b6 = np.array(BCI), np.array(TABLE_B6)
    return (
        float(np.interp(volts, bci[:, 0], bci[:, 1])),
        float(np.interp(volts, b6[:, 0], b6[:, 1], left=0.0)),
    )
