"""A battery's cells: open-circuit volts by charge, and resistance by charge and temperature.

Open-circuit volts: lead-acid by the BCI table (12.65 to 11.89 V of six cells; as cited at
studylib.net/doc/18054160); nickel-cadmium about 1.28 V and flat (from memory; FAA AMT handbook: 1.0 V is the
end); lithium iron phosphate in the shape of Prada et al. 2012 as PyBaMM has it. The sag grows
hyperbolically as the charge goes (Shepherd 1965) and is fitted to the label: at the rated current the last
ampere-hour is drawn at `end_volts`. Coefficients that are not named so are ours.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from runner.airplane.model.source import Battery, Chemistry

OPEN_VOLTS: Final = {
    Chemistry.LEAD_ACID: ((0.0, 1.982), (0.25, 2.010), (0.5, 2.040), (0.75, 2.075), (1.0, 2.108)),
    Chemistry.NICKEL_CADMIUM: ((0.0, 1.15), (0.1, 1.21), (0.3, 1.24), (0.8, 1.27), (1.0, 1.32)),
    Chemistry.LITHIUM_IRON: (
        (0.0, 2.8),
        (0.05, 3.0),
        (0.25, 3.14),
        (0.4, 3.225),
        (0.7, 3.255),
        (0.85, 3.285),
        (0.95, 3.3),
        (1.0, 3.42),
    ),
}
"""(Charge, volts of one cell at rest)."""
SAG_AT_RATED: Final = {
    Chemistry.LEAD_ACID: 0.030,
    Chemistry.NICKEL_CADMIUM: 0.015,
    Chemistry.LITHIUM_IRON: 0.030,
}
"""Volts that a full cell at 25 C sags at its one-hour current, when the file gives no milliohms; ours."""
COLD_PER_DEGREE: Final = 0.01
"""Share by which resistance grows for each degree under 25 C; ours."""
KNEE: Final = 0.05
"""Where Shepherd's hyperbola turns up, as a share of charge; ours."""
TEST_CELSIUS: Final = 25.0


def open_volts(battery: Battery, charge: float) -> float:
    """Volts at rest for a charge of 0 to 1."""
    table = np.array(OPEN_VOLTS[battery.chemistry])
    return float(battery.cells * np.interp(charge, table[:, 0], table[:, 1]))


def full_ohms(battery: Battery) -> float:
    """Resistance of a full battery at 25 C."""
    if battery.milliohms is not None:
        return battery.milliohms / 1000
    return battery.cells * SAG_AT_RATED[battery.chemistry] / battery.ampere_hours


def ohms(battery: Battery, charge: float, celsius: float) -> float:
    """Resistance at a charge of 0 to 1; 0 when the file declares an ideal battery with `milliohms: 0`."""
    full = full_ohms(battery)
    if full == 0:
        return 0.0
    rated_amps = battery.ampere_hours / battery.hour_rate
    empty = max(full, (open_volts(battery, 0.0) - battery.end_volts) / rated_amps)
    cold = 1 + COLD_PER_DEGREE * max(0.0, TEST_CELSIUS - celsius)
    return (full + (empty - full) * _emptiness(charge)) * cold


def _emptiness(charge: float) -> float:
    """0 for full, 1 for empty, along Shepherd's hyperbola."""
    least, most = 1 / (1 + KNEE), 1 / KNEE
    return (1 / (min(1.0, max(0.0, charge)) + KNEE) - least) / (most - least)
