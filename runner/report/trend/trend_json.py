"""The trends of an airplane as JSON: what the text says, with the numbers behind it."""

from dataclasses import asdict
from typing import Any

from runner.report.fleet.airplane_trend import AirplaneTrends
from runner.trend.judged_series import Trend
from runner.trend.monotone import MannKendall
from runner.trend.series import MONTH
from runner.trend.verdict_wording import line, spoken


def trend_dict(airplane: AirplaneTrends) -> dict[str, Any]:
    """A document of plain values; times are seconds since the epoch."""
    return {
        "registration": airplane.registration,
        "is_invented": airplane.is_invented,
        "spoken": spoken(airplane.trends),
        "series": [_series(trend) for trend in airplane.trends],
    }


def _series(trend: Trend) -> dict[str, Any]:
    since, chart = trend.baseline.since, trend.individuals
    return {
        "name": trend.series.name,
        "quantity": trend.series.quantity,
        "unit": trend.series.unit,
        "limits": asdict(trend.series.limits),
        "left_out": trend.series.left_out,
        "baseline": None if since is None else asdict(since),
        "per_degree_celsius": trend.per_degree if trend.is_weather_known else None,
        "verdict": asdict(trend.verdict) | {"words": line(trend)},
        "individuals": None
        if chart is None
        else {"mean": chart.mean, "lower": chart.lower, "upper": chart.upper},
        "mann_kendall": _mann_kendall(trend.mann_kendall),
        "slope_per_month": None if trend.slope is None else trend.slope.slope * MONTH,
        "runs": [_run(trend, place) for place in range(len(trend.points))],
    }


def _mann_kendall(test: MannKendall | None) -> dict[str, Any] | None:
    return None if test is None else asdict(test)


def _run(trend: Trend, place: int) -> dict[str, Any]:
    return asdict(trend.points[place]) | {
        "at_mean_temperature": trend.levelled[place],
        "score": trend.watch.scores[place],
        "sum_high": trend.watch.high[place],
        "sum_low": trend.watch.low[place],
        "ewma": None if trend.ewma is None else trend.ewma.averages[place],
    }
