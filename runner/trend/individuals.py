"""Individuals and moving-range chart: is one value unlike the others?

Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean
from typing import Final

D2: Final = 1.128
"""Mean range of two values over their standard deviation, as NIST 6.3.2.2 rounds it."""


@dataclass(frozen=True, slots=True)
class Individuals:
    """Centre, limits at three standard deviations, and the moving ranges; all in the unit of the values."""

    mean: float
    mean_range: float
    sigma: float
    lower: float
    upper: float
    ranges: tuple[float, ...]


def individuals(values: Sequence[float]) -> Individuals:
    """The chart's figures, in the unit of the values, oldest first; ValueError for fewer than two."""
    if len(values) < 2:  # noqa: PLR2004 - a range needs two
        raise ValueError("a moving range needs two values")
    ranges = tuple(abs(after - before) for before, after in pairwise(values))
    mean, mean_range = fmean(values), fmean(ranges)
    sigma = mean_range / D2
    return Individuals(mean, mean_range, sigma, mean - 3 * sigma, mean + 3 * sigma, ranges)
