"""A series judged: everything that a table, a chart or a sentence needs of it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from runner.trend.covariate import temperatures
from runner.trend.drift import FEWEST, Case, judge
from runner.trend.ewma import Ewma, ewma
from runner.trend.individuals import Individuals, individuals
from runner.trend.monotone import MannKendall, Slope, mann_kendall, theil_sen
from runner.trend.score import Watch, watch
from runner.trend.series import Baseline, Maintenance, Point, Series, baseline
from runner.trend.verdict import TrendVerdict

RECENT: Final = 400
"""Runs that are looked at; older ones say nothing about next month."""


@dataclass(frozen=True, slots=True)
class Trend:
    """One series with its charts and its verdict."""

    series: Series
    baseline: Baseline
    points: tuple[Point, ...]
    """The runs looked at: those since the maintenance, the most recent of them."""
    levelled: tuple[float, ...]
    """Their values as they would be at the mean temperature."""
    per_degree: float
    """What one degree Celsius does; 0 when temperatures are not known."""
    watch: Watch
    individuals: Individuals | None
    """Limits from the runs that are normal; None while there are too few."""
    ewma: Ewma | None
    mann_kendall: MannKendall | None
    """Over the runs looked at, as the slope is; None while there are not two times."""
    slope: Slope | None
    """Theil-Sen, in units per second."""
    verdict: TrendVerdict

    @property
    def is_weather_known(self) -> bool:
        """Whether temperatures were taken into account."""
        return self.watch.line.has_slope


def trend_of(series: Series, events: Iterable[Maintenance] = ()) -> Trend:
    """Judge a series as of its last run."""
    base = baseline(series, events)
    points = base.points[-RECENT:]
    values = [point.value for point in points]
    degrees = temperatures([point.celsius for point in points])
    seen = watch(values, degrees, floor=rounding(values))
    per_degree = seen.line.slope if len(points) >= FEWEST else 0.0
    levelled = tuple(value - per_degree * warm for value, warm in zip(values, degrees, strict=True))
    times = [point.at for point in points]
    chart = _limits([levelled[place] for place in seen.learned])
    has_time = len(set(times)) > 1
    return Trend(
        series,
        base,
        points,
        levelled,
        per_degree,
        seen,
        chart,
        None if chart is None else ewma(levelled, chart.mean, chart.sigma),
        mann_kendall(times, levelled) if has_time else None,
        theil_sen(times, levelled) if has_time else None,
        judge(Case(times, levelled, series.limits, seen)),
    )


def _limits(normal: Sequence[float]) -> Individuals | None:
    return individuals(normal) if len(normal) >= FEWEST - 2 else None


def rounding(values: Sequence[float]) -> float:
    """The least scatter to believe in, in the values' unit: half of the smallest step seen."""
    steps = [round(abs(after - before), 6) for before, after in pairwise(sorted(set(values)))]
    return min(steps, default=0.0) / 2
