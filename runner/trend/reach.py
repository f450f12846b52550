"""When a drifting value will reach its limit, with the interval that its slope allows."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from runner.trend.monotone import Slope
from runner.trend.series import Limits


@dataclass(frozen=True, slots=True)
class Reach:
    """Seconds since the epoch; a value that is there already is reached now."""

    limit: float
    """The limit that the drift is heading for, in the unit of the value."""
    about: float
    earliest: float
    latest: float | None
    """None when the slope is not sure enough to put an end to it."""


def limit_headed_for(limits: Limits, slope: float) -> float | None:
    """The limit, in the unit of the values, on the side that the slope goes to."""
    return limits.high if slope > 0 else limits.low


def level_at(at: float, times: Sequence[float], values: Sequence[float], steepness: float) -> float:
    """Where a line that halves the points stands `at` a time; `steepness` in the units of both."""
    return median(value + steepness * (at - time) for time, value in zip(times, values, strict=True))


def reach(times: Sequence[float], values: Sequence[float], slope: Slope, limits: Limits) -> Reach | None:
    """When the limit ahead is met by the line that halves the points; None when there is none ahead.

    In the units of times, values and limits, which must agree.

    Each end of the slope's interval is a line of its own that halves the same points.
    """
    limit = limit_headed_for(limits, slope.slope)
    if limit is None or slope.slope == 0:
        return None
    now = max(times)

    def met(steepness: float | None) -> float | None:
        """When; None for a line that is unknown or goes the other way."""
        if steepness is None or steepness * slope.slope <= 0:
            return None
        return max(now, now + (limit - level_at(now, times, values, steepness)) / steepness)

    about = met(slope.slope) or now
    steep, flat = (slope.upper, slope.lower) if slope.slope > 0 else (slope.lower, slope.upper)
    earliest = met(steep)
    return Reach(limit, about, now if earliest is None else earliest, met(flat))
