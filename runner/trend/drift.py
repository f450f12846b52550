"""Comes to the verdict on a series: has it moved, is it still on its way, and when is its limit met?

The cumulative sum of self-starting scores finds what moved within weeks; Mann-Kendall over all runs finds
what moves so slowly that every run takes it for normal; one run far outside stands for itself.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, median
from typing import Final

from runner.trend.monotone import mann_kendall, theil_sen
from runner.trend.onset import onset
from runner.trend.reach import level_at, limit_headed_for, reach
from runner.trend.score import Watch
from runner.trend.series import MONTH, Limits
from runner.trend.verdict import Sign, Steadiness, TrendVerdict

FEWEST: Final = 8
"""Runs before anything is said: a line on temperature, five degrees of freedom, and the run to judge."""
ODD: Final = 4.5
"""Standard deviations at which one run alone is out of control (1 run in 150,000 by chance)."""
SURE: Final = 1e-4
"""Mann-Kendall p below which a slow trend is believed, small because every run asks again."""
SOON: Final = 12 * MONTH
"""A slow trend matters when it meets its limit within this time."""
GROWTH: Final = 0.2
"""A slow trend without a limit matters when it moves the level by this share in a year."""


@dataclass(frozen=True, slots=True)
class Case:
    """What is judged: times, values at the mean temperature, the limits, and the run-by-run watch."""

    times: Sequence[float]
    values: Sequence[float]
    limits: Limits
    watch: Watch

    @property
    def usual(self) -> float:
        """The level of the runs that are normal."""
        return fmean(self.values[place] for place in self.watch.learned)


def judge(case: Case) -> TrendVerdict:
    """The verdict as of the last run."""
    runs = len(case.values)
    if runs < FEWEST or case.watch.scores[-1] is None:
        return TrendVerdict(Steadiness.TOO_FEW, Sign.NONE, runs, case.values[-1] if runs else None)
    if case.watch.moved_from is not None:
        return _moved(case, case.watch.moved_from)
    if abs(case.watch.scores[-1]) > ODD:
        return _out(case, Sign.RUN, case.times[-1], case.values[-1] - case.usual)
    return _slow(case)


def _moved(case: Case, named: int) -> TrendVerdict:
    """The level has moved since about a run: still on its way, or a step that stays."""
    off = [value - case.usual for value in case.values]
    began = onset(case.times, off, named)
    if began.is_rise:
        return _drifting(case, Sign.SUM, began.place, case.usual)
    return _out(case, Sign.SUM, case.times[began.place], median(off[began.place :]))


def _out(case: Case, sign: Sign, since: float, moved_by: float) -> TrendVerdict:
    return TrendVerdict(
        Steadiness.OUT_OF_CONTROL,
        sign,
        len(case.values),
        case.values[-1],
        case.usual,
        since,
        moved_by,
    )


def _drifting(case: Case, sign: Sign, start: int, usual: float | None) -> TrendVerdict:
    """A drift since a place; `usual` is the level before, None when it has drifted from the first run on."""
    times, values = case.times[start:], case.values[start:]
    slope = theil_sen(times, values)
    first, last = (level_at(at, times, values, slope.slope) for at in (times[0], times[-1]))
    low, high = (None if end is None else end * MONTH for end in (slope.lower, slope.upper))
    return TrendVerdict(
        Steadiness.DRIFTING,
        sign,
        len(case.values),
        case.values[-1],
        first if usual is None else usual,
        since=times[0],
        moved_by=last - (first if usual is None else usual),
        per_month=slope.slope * MONTH,
        per_month_low=low,
        per_month_high=high,
        reach=reach(times, values, slope, case.limits),
    )


def _slow(case: Case) -> TrendVerdict:
    steady = TrendVerdict(Steadiness.STEADY, Sign.NONE, len(case.values), case.values[-1], case.usual)
    if len(set(case.times)) == 1 or mann_kendall(case.times, case.values).p > SURE:
        return steady
    drifting = _drifting(case, Sign.TREND, 0, None)
    return drifting if _matters(case, drifting) else steady


def _matters(case: Case, verdict: TrendVerdict) -> bool:
    slope = verdict.per_month or 0.0
    if limit_headed_for(case.limits, slope) is not None:
        return verdict.reach is not None and verdict.reach.about - case.times[-1] <= SOON
    return abs(slope) * 12 > GROWTH * abs(verdict.usual or 0.0)
