"""How long a breaker bears too much: its trip curve, from the current that it holds for ever on.

The standing curve is ours, in the shape of aircraft thermal breakers' specifications (115 % is held, 138 %
opens within the hour, 200 % within about half a minute; from memory). A breaker maker's curve in the file
is better.
"""

from __future__ import annotations

from itertools import pairwise
from math import exp, inf, log
from typing import Final

TripCurve = tuple[tuple[float, float], ...]
"""(Percent of the rating, seconds until it opens), upward; under the first row it holds."""

DEFAULT_TRIP: Final[TripCurve] = ((138, 3600), (200, 30), (400, 3.5), (600, 1.2), (1000, 0.4))


def trip_seconds(curve: TripCurve, rating_amps: float, amps: float) -> float:
    """Seconds until a breaker opens at a steady current, straight on log-log paper between rows; inf: never.

    Over the last row it takes the last row's time.
    """
    percent = abs(amps) / rating_amps * 100
    if percent < curve[0][0]:
        return inf
    for (low, slow), (high, quick) in pairwise(curve):
        if percent < high:
            share = log(percent / low) / log(high / low)
            return exp(log(slow) + share * log(quick / slow))
    return curve[-1][1]
