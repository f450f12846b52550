"""Scores: how odd each value is after all before it, as a standard normal number from the first runs on.

Self-starting (Hawkins 1987): each value is judged by the expectation learned from those before it, its
t value turned into a normal one (Wallace 1959). So the chart needs no known mean, and its false alarms are
what they should be although the history is short. What alarms is not learned: a drift must not become normal.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from runner.trend.covariate import Expectation, TemperatureLine

ALLOWANCE: Final = 0.75
"""Standard deviations a run may be off without adding up."""
DECISION: Final = 6.5
"""Sum at which a move is reported; tuned and measured by tests/bench/bench_trend.py."""
CAP: Final = 9.0
"""No sum grows beyond this, so that a return to normal shows soon."""
OVER: Final = DECISION / 2
"""A move is over when the sum has come down to this."""
BOUND: Final = 3.0
"""No single run adds, or teaches, more than this many standard deviations."""
KEPT: Final = 6
"""Runs from the beginning that stay learned whatever follows."""


@dataclass(frozen=True, slots=True)
class Sums:
    """Two cumulative sums, upward and downward, after one value (NIST/SEMATECH e-Handbook 6.3.2.3)."""

    high: float = 0.0
    low: float = 0.0

    def after(self, deviation: float, allowance: float, highest: float = math.inf) -> "Sums":
        """The sums after a value that deviates so far from the target; none grows beyond `highest`.

        All in one unit, that of the deviation.
        """
        return Sums(
            min(highest, max(0.0, self.high + deviation - allowance)),
            min(highest, max(0.0, self.low - deviation - allowance)),
        )


@dataclass(frozen=True, slots=True)
class Watch:
    """A series judged run by run."""

    scores: tuple[float | None, ...]
    """None while there was too little to expect anything from."""
    high: tuple[float, ...]
    low: tuple[float, ...]
    line: TemperatureLine
    """What is normal, by the runs that were learned, as distance from the first value."""
    moved_from: int | None
    """Place of the run from which the values have been off, when they are now."""
    learned: tuple[int, ...]
    """Places of the runs that say what is normal."""


def normal_score(t: float, freedom: int) -> float:
    """The standard normal number as likely as a Student t value (Wallace's approximation); no units."""
    size = (8 * freedom + 1) / (8 * freedom + 3) * math.sqrt(freedom * math.log1p(t * t / freedom))
    return math.copysign(size, t)


def watch(values: Sequence[float], degrees: Sequence[float], *, floor: float = 0.0) -> Watch:
    """Judge values in order of time; `degrees` are temperatures about some mean, zeros when unknown.

    `floor` is the least scatter to believe in, in the unit of the values: that of their rounding.
    """
    watcher = _Watcher(values, degrees, floor)
    for place in range(len(values)):
        watcher.judge(place)
    return watcher.result()


class _Watcher:
    """The state of one pass over a series."""

    def __init__(self, values: Sequence[float], degrees: Sequence[float], floor: float) -> None:
        origin = values[0] if values else 0.0  # sums of squares keep their digits about the first value
        self._values = [value - origin for value in values]
        self._degrees, self._floor = degrees, floor
        self._line = TemperatureLine()
        self._learned: dict[int, float] = {}
        self._sums = [Sums()]
        self._since = [0, 0]
        self._scores: list[float | None] = []
        self._moved_from: int | None = None

    def judge(self, place: int) -> None:
        """Score one run, add it up, and learn from it unless the series has moved."""
        expected = self._line.expect(self._degrees[place], self._floor)
        score = None if expected is None else _score(self._values[place], expected)
        self._scores.append(score)
        self._add_up(place, score or 0.0)
        if self._moved_from is None:
            self._learn(place, expected)

    def _add_up(self, place: int, score: float) -> None:
        bounded = max(-BOUND, min(BOUND, score))
        sums = self._sums[-1].after(bounded, ALLOWANCE, CAP)
        self._sums.append(sums)
        for side, size in enumerate((sums.high, sums.low)):
            if size == 0:
                self._since[side] = place + 1
        largest = max(sums.high, sums.low)
        if self._moved_from is None and largest > DECISION:
            self._moved_from = self._since[0 if sums.high == largest else 1]
            self._unlearn(self._moved_from)
        elif self._moved_from is not None and largest <= OVER:
            self._moved_from = None

    def _learn(self, place: int, expected: Expectation | None) -> None:
        value = self._values[place]
        if expected is not None:
            most = BOUND * expected.error
            value = max(expected.value - most, min(expected.value + most, value))
        self._learned[place] = value
        self._line = self._line.with_point(self._degrees[place], value)

    def _unlearn(self, start: int) -> None:
        for place in [place for place in self._learned if place >= max(start, KEPT)]:
            value = self._learned.pop(place)
            self._line = self._line.with_point(self._degrees[place], value, weight=-1)

    def result(self) -> Watch:
        """What was found."""
        high = tuple(sums.high for sums in self._sums[1:])
        low = tuple(sums.low for sums in self._sums[1:])
        return Watch(tuple(self._scores), high, low, self._line, self._moved_from, tuple(self._learned))


def _score(value: float, expected: Expectation) -> float:
    if expected.error == 0:
        return 0.0 if value == expected.value else math.copysign(BOUND, value - expected.value)
    return normal_score((value - expected.value) / expected.error, expected.freedom)
