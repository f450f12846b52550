"""Temperature: the share of its rated capacity that a battery gives when it is colder than in its test.

Without a maker's table a lead-acid battery is derated by IEEE Std 485 Table 1 (sizing factors at 25 to 125 F,
linear between rows; available share = 1 / factor). The row values are from memory.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from runner.airplane.model.source import Battery

IEEE_485_FACTORS: Final = (
    (25, 1.52),
    (30, 1.43),
    (35, 1.35),
    (40, 1.30),
    (45, 1.25),
    (50, 1.19),
    (55, 1.15),
    (60, 1.11),
    (65, 1.08),
    (70, 1.04),
    (77, 1.00),
    (80, 0.98),
    (85, 0.96),
    (90, 0.94),
    (95, 0.93),
    (100, 0.91),
    (105, 0.89),
    (110, 0.88),
    (115, 0.87),
    (120, 0.86),
    (125, 0.85),
)
"""(Fahrenheit, sizing factor)."""


def temperature_share(battery: Battery, celsius: NDArray[np.float64]) -> NDArray[np.float64]:
    """Share of rated capacity at each temperature, 0 to 1; colder than the table, its first two rows go on.

    Warmth never counts for more than the rating.
    """
    if battery.temperature_shares:
        table = np.array(battery.temperature_shares)
        share = _along(celsius, table[:, 0], table[:, 1])
    else:
        table = np.array(IEEE_485_FACTORS)
        share = 1 / _along(celsius * 1.8 + 32, table[:, 0], table[:, 1])
    return np.clip(share, 0.0, 1.0)


def _along(at: NDArray[np.float64], xs: NDArray[np.float64], ys: NDArray[np.float64]) -> NDArray[np.float64]:
    """Linear between rows, level above the last, and straight on below the first."""
    inside = np.interp(at, xs, ys)
    if len(xs) == 1:
        return inside
    slope = (ys[1] - ys[0]) / (xs[1] - xs[0])
    return np.where(at < xs[0], ys[0] + slope * (at - xs[0]), inside)
