"""Cumulative sums: small moves that last add up until they show.

Source: NIST/SEMATECH e-Handbook 6.3.2.3.
"""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Sums:
    """The two sums after one value."""

    high: float = 0.0
    low: float = 0.0

    def after(self, deviation: float, allowance: float, cap: float = float("inf")) -> "Sums":
        """The sums after a value that deviates so far from the target; none grows beyond the cap."""
        return Sums(
            min(cap, max(0.0, self.high + deviation - allowance)),
            min(cap, max(0.0, self.low - deviation - allowance)),
        )


@dataclass(frozen=True, slots=True)
class Cusum:
    """Upper and lower sums, one each per value, and where each first passed the decision limit."""

    high: tuple[float, ...]
    low: tuple[float, ...]
    first_high: int | None
    """Place of the first value whose upper sum is above the limit."""
    first_low: int | None


def cusum(
    values: Sequence[float], target: float, *, allowance: float, decision: float, head_start: float = 0.0
) -> Cusum:
    """Sum what each value is beyond `target` by more than `allowance`, both ways.

    Allowance, decision and head start are in the unit of the values. A head start of half the decision limit
    finds a process sooner that is off from the beginning (Lucas and Crosier 1982).
    """
    sums = Sums(head_start, head_start)
    high: list[float] = []
    low: list[float] = []
    for value in values:
        sums = sums.after(value - target, allowance)
        high.append(sums.high)
        low.append(sums.low)
    return Cusum(tuple(high), tuple(low), _first_above(high, decision), _first_above(low, decision))


def _first_above(sums: Sequence[float], decision: float) -> int | None:
    return next((at for at, value in enumerate(sums) if value > decision), None)
