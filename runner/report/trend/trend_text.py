"""The trends of an airplane as text: one line a series with its verdict, and terminal charts."""

from collections.abc import Iterator

from runner.report.draw.text_table import table
from runner.report.fleet.airplane_trend import AirplaneTrends
from runner.report.trend.trend_graph import graph
from runner.trend.judged_series import Trend
from runner.trend.verdict_wording import line

KEY = "o a run   X off since   - usual   = limit of the check   (all at the mean temperature)"
HEADS = ("series", "runs", "usual", "last", "per degree", "verdict")


def trend_text(
    airplane: AirplaneTrends, *, with_graphs: bool = False, width: int | None = None
) -> Iterator[str]:
    """Lines; charts of what has moved, or of every series when asked; the table within `width` cells."""
    yield f"{airplane.registration}{' (invented)' if airplane.is_invented else ''}"
    yield from table([HEADS, *map(_row, airplane.trends)], width=width)
    left_out = [trend for trend in airplane.trends if trend.series.left_out]
    for trend in left_out:
        yield f"  {trend.series.name}: {trend.series.left_out} left out, flag never pulled"
    drawn = [trend for trend in airplane.trends if with_graphs or trend.verdict.has_moved]
    for trend in drawn:
        lines = graph(trend)
        if lines:
            yield from ("", f"  {trend.series.name}, {trend.series.unit}", *(f"  {each}" for each in lines))
    if drawn:
        yield from ("", f"  {KEY}")


def _row(trend: Trend) -> tuple[str, ...]:
    verdict, unit = trend.verdict, trend.series.unit
    usual = "-" if verdict.usual is None else f"{verdict.usual:.2f} {unit}"
    last = f"{trend.points[-1].value:.2f} {unit}" if trend.points else "-"
    per_degree = f"{trend.per_degree:+.3f}" if trend.is_weather_known and verdict.usual is not None else "-"
    return trend.series.name, str(verdict.runs), usual, last, per_degree, line(trend)
