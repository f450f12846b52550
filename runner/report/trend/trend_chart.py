"""The trend chart: the runs with their limits and averages above, the cumulative sums below.

Drawn with matplotlib; marks, line styles and words tell things apart, colour only repeats them.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from runner.errors import UsageError
from runner.report.draw.plotter import load_plotter
from runner.trend.judged_series import Trend
from runner.trend.score import DECISION
from runner.trend.series import MONTH
from runner.trend.verdict import Steadiness
from runner.trend.verdict_wording import line
from runner.visible import visible

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Days = NDArray[np.datetime64]

FORMATS: Final = (".svg", ".png")
INK: Final = "#000000"
GREY: Final = "#595959"
AMBER: Final = "#a05a00"
"""Only for a limit: caution in the sense of 14 CFR 25.1322; it is dash-dotted and named as well."""
NEAR: Final = 1.5
"""A limit further away than this many times the spread of the runs is told in words, not drawn."""
WIDEST: Final = 110
"""Letters in a line of the title."""


def draw_trend(trend: Trend, path: Path, title: str = "") -> None:
    """Write one series' chart as SVG or PNG by the path's suffix.

    UsageError for another suffix, without matplotlib, without runs, or when it cannot be written.
    """
    if path.suffix not in FORMATS:
        raise UsageError(
            f'"{path.name}" is neither {FORMATS[0]} nor {FORMATS[1]}; end the name in one of them'
        )
    if not trend.points:
        raise UsageError(f'"{trend.series.name}" has no runs to draw')
    mpl = load_plotter()
    with mpl.rc_context({"svg.hashsalt": "eyesout", "svg.fonttype": "none", "date.converter": "concise"}):
        figure = mpl.figure.Figure(figsize=(9, 6), layout="constrained")
        above, below = figure.subplots(2, 1, sharex=True, height_ratios=(3, 1.2))
        _draw_runs(trend, above)
        _draw_sums(trend, below)
        figure.suptitle(visible(f"{title}{': ' if title else ''}{trend.series.name}"), fontweight="bold")
        above.set_title(_wrapped(line(trend)), loc="left", fontsize=9)
        figure.legend(  # outside of the axes: it hides no run and no limit
            *above.get_legend_handles_labels(), loc="outside lower left", fontsize=8, ncols=3, frameon=False
        )
        below.set_xlabel(
            "day of the run, UTC; the approved flight manual and licensed maintenance govern", fontsize=9
        )
        _save(figure, path)


def _save(figure: Figure, path: Path) -> None:
    stamp = {"Date": None} if path.suffix == ".svg" else None
    try:
        figure.savefig(path, dpi=150, metadata=stamp)
    except OSError as error:
        raise UsageError(f"cannot write {path}: {error.strerror}") from None


def _wrapped(words: str) -> str:
    return "\n".join(textwrap.wrap(words, WIDEST))


def _days(times: Iterable[float]) -> Days:
    """Times as matplotlib takes dates, UTC."""
    return np.array([round(at) for at in times], dtype="datetime64[s]")


def _draw_runs(trend: Trend, axes: Axes) -> None:
    days = _days(point.at for point in trend.points)
    since = trend.verdict.since
    off = [since is not None and point.at >= since for point in trend.points]
    if any(trend.levelled[place] != point.value for place, point in enumerate(trend.points)):
        axes.plot(
            days, [point.value for point in trend.points], "x", color=GREY, markersize=4, label="as measured"
        )
    for wanted, face, words in ((False, "white", "run"), (True, INK, "run, off")):
        chosen = [place for place, is_off in enumerate(off) if is_off is wanted]
        if chosen:
            axes.plot(
                [days[place] for place in chosen],
                [trend.levelled[place] for place in chosen],
                "o",
                markerfacecolor=face,
                markeredgecolor=INK,
                markersize=5.5,
                label=f"{words}, at mean temperature" if trend.is_weather_known else words,
                zorder=3,
            )
    _draw_lines(trend, axes, days)
    axes.set_ylabel(trend.series.unit)
    axes.grid(color="#d8d8d8", linewidth=0.5)
    axes.spines[["top", "right"]].set_visible(False)


def _draw_lines(trend: Trend, axes: Axes, days: Days) -> None:
    if trend.ewma is not None:
        axes.plot(days, trend.ewma.averages, color=GREY, linewidth=1.6, label="moving average (EWMA)")
    chart = trend.individuals
    if chart is not None:
        axes.axhline(chart.mean, color=INK, linewidth=0.9, label="usual")
        for edge, words in ((chart.lower, "usual range (3 sigma)"), (chart.upper, "_")):
            axes.axhline(edge, color=INK, linewidth=0.9, linestyle="--", label=words)
    if trend.verdict.state is Steadiness.DRIFTING:
        _draw_drift(trend, axes)
    spread = max(trend.levelled) - min(trend.levelled)
    for limit in (trend.series.limits.low, trend.series.limits.high):
        if limit is not None and _is_near(limit, trend, spread):
            axes.axhline(limit, color=AMBER, linewidth=1.8, linestyle="-.", label=f"limit {limit:g}")


def _is_near(limit: float, trend: Trend, spread: float) -> bool:
    return min(trend.levelled) - NEAR * spread <= limit <= max(trend.levelled) + NEAR * spread


def _draw_drift(trend: Trend, axes: Axes) -> None:
    verdict = trend.verdict
    since, slope = verdict.since or trend.points[0].at, (verdict.per_month or 0.0) / MONTH
    end = trend.points[-1].at
    now = (verdict.usual or 0.0) + (verdict.moved_by or 0.0)
    ends = _days((since, end))
    axes.plot(
        ends,
        [now - slope * (end - since), now],
        color=INK,
        linewidth=2.4,
        linestyle=":",
        label="drift (Theil-Sen)",
    )


def _draw_sums(trend: Trend, axes: Axes) -> None:
    days = _days(point.at for point in trend.points)
    axes.step(days, trend.watch.high, where="post", color=INK, linewidth=1.5, label="upward sum")
    axes.step(
        days,
        [-value for value in trend.watch.low],
        where="post",
        color=GREY,
        linewidth=1.5,
        linestyle="--",
        label="downward sum",
    )
    for edge, words in ((DECISION, "reported beyond"), (-DECISION, "_")):
        axes.axhline(edge, color=INK, linewidth=0.9, linestyle="-.", label=words)
    axes.set_ylim(-2.1 * DECISION, 1.6 * DECISION)  # room for the legend below the lines
    axes.set_ylabel("cumulative sum,\nstandard deviations", fontsize=8)
    axes.grid(color="#d8d8d8", linewidth=0.5)
    axes.spines[["top", "right"]].set_visible(False)
    axes.legend(fontsize=8, loc="lower left", ncols=3)
