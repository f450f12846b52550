"""Where a move began and what shape it has: the step or the straight rise that leaves least unexplained."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

AROUND: Final = 12
"""Runs before and after the place that the cumulative sum names: it is late for a rise, early by chance."""
FEWEST: Final = 3
"""Runs that a rise takes to be told from a step."""

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Onset:
    """The first run that is off, and whether the values are still on their way."""

    place: int
    is_rise: bool


def onset(times: Sequence[float], off: Sequence[float], named: int) -> Onset:
    """The best of all steps and rises that begin near the `named` place; `off` are distances from usual.

    Both in any unit.

    A rise leaves the usual level at the run before its first one. Least squares.
    """
    time, value = np.asarray(times, dtype=np.float64), np.asarray(off, dtype=np.float64)
    before = np.concatenate(([0.0], np.cumsum(value * value)))
    candidates: list[tuple[float, bool, int]] = []
    for place in range(max(0, named - AROUND), min(len(value), named + AROUND + 1)):
        candidates.append((float(before[place]) + _left_by_step(value[place:]), False, place))
        elapsed = time[place:] - time[max(0, place - 1)]
        if len(np.unique(elapsed)) >= FEWEST:
            candidates.append((float(before[place]) + _left_by_rise(elapsed, value[place:]), True, place))
    _, is_rise, place = min(candidates)
    return Onset(place, is_rise)


def _left_by_step(value: Array) -> float:
    return float(np.sum((value - value.mean()) ** 2))


def _left_by_rise(elapsed: Array, value: Array) -> float:
    steepness = float(elapsed @ value) / float(elapsed @ elapsed)
    return float(np.sum((value - steepness * elapsed) ** 2))
