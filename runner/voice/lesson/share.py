"""A share seen in a few tries: how many of how many, and the range that so few tries leave open."""

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

CONFIDENCE: Final = 0.95
"""Of the ranges that are told."""


@dataclass(frozen=True, slots=True)
class Share:
    """`count` of `tries`."""

    count: int
    tries: int

    @property
    def expected(self) -> float:
        """The share to expect of the next try, 0 to 1: (count + 1) / (tries + 2), Laplace's rule."""
        return (self.count + 1) / (self.tries + 2)

    @property
    def bounds(self) -> tuple[float, float]:
        """The shares that fit what was seen: Wilson's 95 % interval (Wilson 1927); all of them untried."""
        if not self.tries:
            return 0.0, 1.0
        deviations = NormalDist().inv_cdf((1.0 + CONFIDENCE) / 2.0)
        seen, weight = self.count / self.tries, deviations**2 / self.tries
        centre = (seen + weight / 2.0) / (1.0 + weight)
        spread = deviations * math.sqrt(seen * (1.0 - seen) / self.tries + weight / (4.0 * self.tries))
        spread /= 1.0 + weight
        return max(0.0, centre - spread), min(1.0, centre + spread)


def get_sign_chance(more: int, fewer: int) -> float:
    """The chance that fair coins fall at least so unevenly: the exact one-sided sign test (McNemar's)."""
    flips = more + fewer
    return sum(math.comb(flips, heads) for heads in range(more, flips + 1)) / float(2**flips)
