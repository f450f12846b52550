"""PURE: where values come to lie on a drawing, and round numbers to label its axis with.

Values are in any one unit, places on the drawing in its user units.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight map from values to places on the drawing."""

    low: float
    high: float
    start: float
    """Where `low` comes to lie."""
    end: float

    def __call__(self, value: float) -> float:
        """The place of a value."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)


def scale_over(values: Iterable[float], start: float, end: float, margin: float = 0.06) -> Scale:
    """A scale on which all values find room; values that are all alike lie in the middle."""
    listed = list(values)
    low, high = min(listed), max(listed)
    room = (high - low) * margin or abs(high) * margin or 1.0
    return Scale(low - room, high + room, start, end)


def round_numbers(low: float, high: float, count: int = 4) -> list[float]:
    """At most about `count` multiples of 1, 2 or 5 times a power of ten between low and high."""
    rough = (high - low) / count
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * times for times in (1, 2, 5, 10) if power * times >= rough)
    first = math.ceil(low / step)
    return [round(place * step, 10) for place in range(first, math.floor(high / step) + 1)]
