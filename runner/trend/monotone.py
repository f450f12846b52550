"""Is there a trend on real time, and how steep: Mann-Kendall and Theil-Sen, with ties and unequal gaps.

Sources: USEPA (2009), Unified Guidance, EPA 530/R-09-007, chapter 17, examples 17-6 and 17-7; Gilbert 1987,
Statistical Methods for Environmental Pollution Monitoring, 16.5 (interval, ranks interpolated); Conover
(intercept through the medians); Kendall, Rank Correlation Methods (variance with ties, from memory).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist
from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Places = NDArray[np.int64]
TWO: Final = 2
"""The fewest points that make a slope."""


@dataclass(frozen=True, slots=True)
class MannKendall:
    """How surely the values rise or fall with time."""

    count: int
    s: int
    """Pairs that rise less pairs that fall."""
    variance: float
    """Of S when there is no trend, corrected for ties."""
    z: float
    """S less its continuity correction, in standard deviations."""
    p: float
    """Two-sided."""
    tau: float
    """S as a share of all pairs (Kendall's tau-a)."""


@dataclass(frozen=True, slots=True)
class Slope:
    """The median slope with its interval, in values per unit of time."""

    slope: float
    intercept: float
    """Median value less slope times median time."""
    lower: float | None
    """None when there are too few pairs for an end of the interval."""
    upper: float | None


def mann_kendall(times: Sequence[float], values: Sequence[float]) -> MannKendall:
    """Test for a monotone trend, in any units; ties are no move. ValueError for fewer than two points."""
    return _tested(tuple(times), tuple(values))


@lru_cache(maxsize=2)
def _tested(times: tuple[float, ...], values: tuple[float, ...]) -> MannKendall:
    """Kept for a moment: a series is tested for its table and again for its verdict."""
    count = _count(times, values)
    time, value = np.asarray(times, dtype=np.float64), np.asarray(values, dtype=np.float64)
    early, late = _pairs(count)
    signs = np.sign(value[late] - value[early])
    if not (np.diff(time) > 0).all():
        signs *= np.sign(time[late] - time[early])
    s = int(np.sum(signs))
    variance = _variance(count, _ties(time), _ties(value))
    z = 0.0 if variance == 0 else (s - int(np.sign(s))) / math.sqrt(variance)
    return MannKendall(count, s, variance, z, math.erfc(abs(z) / math.sqrt(2)), s / (count * (count - 1) / 2))


def theil_sen(times: Sequence[float], values: Sequence[float], *, confidence: float = 0.95) -> Slope:
    """The median of all pairs' slopes, in the units of both; ValueError when all times are one."""
    count = _count(times, values)
    time, value = np.asarray(times, dtype=np.float64), np.asarray(values, dtype=np.float64)
    early, late = _pairs(count)
    apart = time[late] - time[early]
    differs = apart != 0
    if not differs.any():
        raise ValueError("all points have one time; there is no slope")
    slopes = np.sort((value[late] - value[early])[differs] / apart[differs])
    slope = float(slopes[(len(slopes) - 1) // 2] + slopes[len(slopes) // 2]) / 2
    intercept = float(np.median(value)) - slope * float(np.median(time))
    spread = NormalDist().inv_cdf(0.5 + confidence / 2) * math.sqrt(
        _variance(count, _ties(time), _ties(value))
    )
    return Slope(
        slope,
        intercept,
        _ranked(slopes, (len(slopes) - spread) / 2),
        _ranked(slopes, (len(slopes) + spread) / 2 + 1),
    )


def _count(times: Sequence[float], values: Sequence[float]) -> int:
    if len(times) != len(values):
        raise ValueError(f"{len(times)} times for {len(values)} values")
    if len(times) < TWO:
        raise ValueError("a trend needs two points")
    return len(times)


@lru_cache(maxsize=2)
def _pairs(count: int) -> tuple[Places, Places]:
    """Both places of every pair, the earlier one first; most series of a fleet have as many points."""
    early, late = np.triu_indices(count, 1)
    return early, late


def _ties(array: Array) -> Array:
    """Sizes of the groups of equal numbers, lone ones left out."""
    sizes = np.unique(array, return_counts=True)[1]
    return sizes[sizes > 1].astype(np.float64)


def _variance(count: int, in_time: Array, in_value: Array) -> float:
    def triples(size: Array) -> float:
        return float(np.sum(size * (size - 1) * (2 * size + 5)))

    def doubles(size: Array) -> float:
        return float(np.sum(size * (size - 1)))

    def steps(size: Array) -> float:
        return float(np.sum(size * (size - 1) * (size - 2)))

    whole = count * (count - 1) * (2 * count + 5) - triples(in_time) - triples(in_value)
    both = doubles(in_time) * doubles(in_value) / (2 * count * (count - 1))
    rest = steps(in_time) * steps(in_value) / (9 * count * (count - 1) * (count - 2)) if count > TWO else 0.0
    return whole / 18 + both + rest


def _ranked(ordered: Array, rank: float) -> float | None:
    """The number at a rank counted from 1, interpolated; None outside of the ranks."""
    if not 1 <= rank <= len(ordered):
        return None
    place = min(int(rank), len(ordered) - 1)
    below, above = float(ordered[place - 1]), float(ordered[place])
    return below + (rank - place) * (above - below)
