"""Outside air temperature as a covariate: a line through what is normal, learned run by run.

Least squares on sums that grow and can be taken back; robust because the caller bounds what an odd value
may teach (`score.py`). A temperature outside of what has been met widens the expectation by itself, so that
the first cold morning alarms nobody.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean
from typing import Final

FREEDOM: Final = 5
"""Points beyond the parameters before anything is expected: a scatter out of fewer is no scatter."""
SPREAD: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Expectation:
    """What the next value should be."""

    value: float
    error: float
    """Standard error of that prediction, the value's own scatter included."""
    freedom: int
    """Degrees of freedom of the scatter."""


@dataclass(frozen=True, slots=True)
class TemperatureLine:
    """Value against temperature, as sums over the points learned."""

    count: int = 0
    x: float = 0.0
    y: float = 0.0
    xx: float = 0.0
    xy: float = 0.0
    yy: float = 0.0

    def with_point(self, celsius: float, value: float, weight: int = 1) -> "TemperatureLine":
        """The line after a value, in its own unit, at a temperature; weight -1 takes a point back."""
        return TemperatureLine(
            self.count + weight,
            self.x + weight * celsius,
            self.y + weight * value,
            self.xx + weight * celsius * celsius,
            self.xy + weight * celsius * value,
            self.yy + weight * value * value,
        )

    @property
    def has_slope(self) -> bool:
        """Whether different temperatures have been met."""
        return self._sxx > SPREAD

    @property
    def _sxx(self) -> float:
        return self.xx - self.x * self.x / self.count if self.count else 0.0

    @property
    def slope(self) -> float:
        """Units per degree Celsius; 0 while only one temperature is known."""
        return (self.xy - self.x * self.y / self.count) / self._sxx if self.has_slope else 0.0

    def at(self, celsius: float) -> float:
        """The line's value at a temperature."""
        return self.y / self.count + self.slope * (celsius - self.x / self.count)

    def expect(self, celsius: float, floor: float) -> Expectation | None:
        """What a run at a temperature should give; None before there are enough points.

        The scatter is taken to be no less than `floor`, what the value's own rounding makes, in its unit.
        """
        sxx = self._sxx
        has_slope = sxx > SPREAD
        freedom = self.count - (2 if has_slope else 1)
        if freedom < FREEDOM:
            return None
        slope = (self.xy - self.x * self.y / self.count) / sxx if has_slope else 0.0
        off = celsius - self.x / self.count
        syy = self.yy - self.y * self.y / self.count
        scatter = max(floor, math.sqrt(max(0.0, syy - slope * slope * sxx) / freedom))
        reach = off**2 / sxx if has_slope else 0.0
        value = self.y / self.count + slope * off
        return Expectation(value, scatter * math.sqrt(1 + 1 / self.count + reach), freedom)


def temperatures(celsius: Sequence[float | None]) -> tuple[float, ...]:
    """Temperatures about their mean; a run without one stands at the mean, all at 0 when most lack it."""
    known = [value for value in celsius if value is not None]
    if not known or len(known) * 4 < len(celsius) * 3:
        return (0.0,) * len(celsius)
    middle = fmean(known)
    return tuple(0.0 if value is None else value - middle for value in celsius)
