"""A trend as a small drawing for a page: its runs over time, the usual range, the average, a near limit.

`trend_chart.py` draws the same in full with matplotlib; this one goes inline, in light and dark, at once.
"""

from collections.abc import Iterator
from typing import Final

from runner.report.draw.page_svg import box, circle, diamond, path, picture, segment, words
from runner.report.draw.scale import Scale, round_numbers, scale_over
from runner.trend.judged_series import Trend
from runner.trend.verdict import Steadiness
from runner.trend.verdict_wording import day_of, line

WIDTH: Final = 240.0
HEIGHT: Final = 100.0
LEFT: Final = 28.0
RIGHT: Final = 232.0
TOP: Final = 8.0
BOTTOM: Final = 82.0
MOST: Final = 60
"""Runs that are drawn; older ones count for the verdict only."""
NEAR: Final = 1.0
"""A limit further off than the height of what is drawn is told in words only."""
KEY: Final = (
    "Circles are runs, diamonds runs since the values are off; the band is the "
    "usual range (3 sigma), the line the moving average, dash-dotted a limit of the check. Values are "
    "as at the mean temperature where temperatures are on record."
)


def strip_chart(trend: Trend, run: str = "") -> str:
    """The drawing as inline SVG; empty while there are too few runs to tell. `run` is marked with a ring."""
    if trend.verdict.state is Steadiness.TOO_FEW or not trend.points:
        return ""
    times = [point.at for point in trend.points[-MOST:]]
    values = list(trend.levelled[-MOST:])
    across = scale_over(times, LEFT, RIGHT, margin=0.02)
    limits = _near_limits(trend, values)
    range_ = _usual_range(trend)
    up = scale_over([*values, *limits, *range_], BOTTOM, TOP)
    marks = [
        *_axis(up),
        *_usual(trend, up),
        *_average(trend, across, up),
        *_limits(limits, up),
        *_runs(trend, across, up),
        *_ring(trend, run, across, up),
        words(day_of(times[0]), LEFT, HEIGHT - 4),
        words(day_of(times[-1]), RIGHT, HEIGHT - 4, anchor="end"),
    ]
    shown = len(times)
    told = (
        f"{shown} of {len(trend.points)} runs, the last {values[-1]:.2f} {trend.series.unit}. {line(trend)}."
    )
    return picture((WIDTH, HEIGHT), f"Chart of {trend.series.name}", told, marks)


def _near_limits(trend: Trend, values: list[float]) -> list[float]:
    """The limits that lie close enough to be drawn."""
    room = (max(values) - min(values)) * NEAR
    known = (trend.series.limits.low, trend.series.limits.high)
    return [
        limit for limit in known if limit is not None and min(values) - room <= limit <= max(values) + room
    ]


def _usual_range(trend: Trend) -> tuple[float, ...]:
    chart = trend.individuals
    return () if chart is None else (chart.lower, chart.upper)


def _axis(up: Scale) -> Iterator[str]:
    for number in round_numbers(up.low, up.high):
        yield segment((LEFT, up(number)), (RIGHT, up(number)), "grid")
        yield words(f"{number:g}", LEFT - 4, up(number) + 3, anchor="end")


def _usual(trend: Trend, up: Scale) -> Iterator[str]:
    if trend.individuals is not None:
        low, high = trend.individuals.lower, trend.individuals.upper
        yield box((LEFT, up(high)), RIGHT - LEFT, up(low) - up(high), "range")


def _average(trend: Trend, across: Scale, up: Scale) -> Iterator[str]:
    if trend.ewma is not None:
        points = zip(trend.points[-MOST:], trend.ewma.averages[-MOST:], strict=True)
        yield path(((across(point.at), up(average)) for point, average in points), "average")


def _limits(limits: list[float], up: Scale) -> Iterator[str]:
    for limit in limits:
        yield segment((LEFT, up(limit)), (RIGHT, up(limit)), "limit")
        yield words(f"limit {limit:g}", LEFT + 3, up(limit) - 3, "limit-words")


def _runs(trend: Trend, across: Scale, up: Scale) -> Iterator[str]:
    since = trend.verdict.since
    for point, value in zip(trend.points[-MOST:], trend.levelled[-MOST:], strict=True):
        is_off = since is not None and point.at >= since
        mark = diamond if is_off else circle
        yield mark(across(point.at), up(value), 3.4 if is_off else 2.2, "off" if is_off else "run")


def _ring(trend: Trend, run: str, across: Scale, up: Scale) -> Iterator[str]:
    for point, value in zip(trend.points[-MOST:], trend.levelled[-MOST:], strict=True):
        if point.run == run:
            yield circle(across(point.at), up(value), 5.6, "ring")
