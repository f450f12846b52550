"""Exponentially weighted moving average: where the level is now, with limits exact from the first value.

Sources: NIST/SEMATECH e-Handbook 6.3.2.4 (settled limits); Montgomery, Introduction to Statistical Quality
Control, equation 9.25 (exact limits of a short history, from memory).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

WEIGHT: Final = 0.3
WIDTH: Final = 3.0


@dataclass(frozen=True, slots=True)
class Ewma:
    """The averages with their exact limits, one each per value."""

    averages: tuple[float, ...]
    lower: tuple[float, ...]
    upper: tuple[float, ...]


def ewma(
    values: Sequence[float], target: float, sigma: float, *, weight: float = WEIGHT, width: float = WIDTH
) -> Ewma:
    """Average `values` from `target` on; `weight` (0 to 1] is the newest value's share.

    `sigma` is the standard deviation of one value, `width` how many of the average's own the limits are away.
    """
    if not 0 < weight <= 1:
        raise ValueError(f"weight {weight} is outside 0 to 1")
    averages: list[float] = []
    average = target
    for value in values:
        average += weight * (value - average)
        averages.append(average)
    settled = width * sigma * math.sqrt(weight / (2 - weight))
    halves = [settled * math.sqrt(1 - (1 - weight) ** (2 * run)) for run in range(1, len(values) + 1)]
    return Ewma(
        tuple(averages),
        tuple(target - half for half in halves),
        tuple(target + half for half in halves),
    )
