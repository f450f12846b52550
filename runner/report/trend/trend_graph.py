"""A trend as a terminal chart: one column a run, the usual level and the limits as lines of their own."""

from collections.abc import Sequence
from typing import Final

from runner.trend.judged_series import Trend
from runner.trend.verdict_wording import day_of

ROWS: Final = 9
MOST: Final = 60
"""Columns: older runs are left out of the picture, not of the verdict."""
RUN, OFF, USUAL, LIMIT = "o", "X", "-", "="


def graph(trend: Trend, *, columns: int = MOST) -> list[str]:
    """Lines of text; empty when there are too few runs to draw.

    `o` a run, `X` a run since which the values are off, `-` the usual level, `=` a limit of the check.
    """
    values = trend.levelled[-columns:]
    usual = trend.verdict.usual
    if usual is None:
        return []
    ends = [*values, usual]
    low, high = min(ends), max(ends)
    room = (high - low) or abs(usual) or 1.0
    limits = [edge for edge in (trend.series.limits.low, trend.series.limits.high) if edge is not None]
    near = [edge for edge in limits if low - room <= edge <= high + room]
    low, high = min(low, *near, usual - 1e-9), max(high, *near, usual + 1e-9)
    grid = [[" "] * len(values) for _ in range(ROWS)]

    def row_of(value: float) -> int:
        return round((high - value) / (high - low) * (ROWS - 1))

    for level, mark in ((usual, USUAL), *((edge, LIMIT) for edge in near)):
        grid[row_of(level)] = [mark] * len(values)
    for column, (value, mark) in enumerate(zip(values, _marks(trend, len(values)), strict=True)):
        grid[row_of(value)][column] = mark
    return _framed(trend, grid, (low, high))


def _marks(trend: Trend, count: int) -> Sequence[str]:
    since = trend.verdict.since
    return [OFF if since is not None and point.at >= since else RUN for point in trend.points[-count:]]


def _framed(trend: Trend, grid: Sequence[Sequence[str]], ends: tuple[float, float]) -> list[str]:
    low, high = ends
    labels = [f"{high - (high - low) * row / (ROWS - 1):9.2f}" for row in range(ROWS)]
    lines = [f"{label} |{''.join(row)}".rstrip() for label, row in zip(labels, grid, strict=True)]
    first, last = (day_of(trend.points[place].at) for place in (-len(grid[0]), -1))
    return [*lines, f"{'':9} +{'-' * len(grid[0])}", f"{'':11}{first} to {last}, one column a run"]
