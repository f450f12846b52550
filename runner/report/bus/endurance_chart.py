"""The endurance chart: the phases as stated, and how many of many flights still have power at each minute.

Drawn with matplotlib in black and white: hatches and line styles tell things apart, never colour alone.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np

from runner.airplane.minutes.chance import sample_minutes
from runner.airplane.minutes.reckoning import demand
from runner.errors import UsageError
from runner.report.bus.endurance_report import EnduranceReport
from runner.report.draw.plotter import load_plotter
from runner.visible import visible

if TYPE_CHECKING:
    from matplotlib.axes import Axes

FORMATS: Final = (".svg", ".png")
HATCHES: Final = ("////", "", "xxx")
POINTS: Final = 401
"""On the curve, whatever the number of samples."""
GREY: Final = "#595959"


def draw_endurance(report: EnduranceReport, path: Path) -> None:
    """Write the chart as SVG or PNG by the path's suffix; UsageError for another or without matplotlib."""
    if path.suffix not in FORMATS:
        raise UsageError(
            f'"{path.name}" is neither {FORMATS[0]} nor {FORMATS[1]}; end the name in one of them'
        )
    mpl = load_plotter()
    with mpl.rc_context({"svg.hashsalt": "eyesout", "svg.fonttype": "none", "hatch.linewidth": 0.8}):
        figure = mpl.figure.Figure(figsize=(9, 5.2), layout="constrained")
        above, below = figure.subplots(2, 1, sharex=True, height_ratios=(1, 2.6))
        _draw_phases(report, above)
        _draw_survival(report, below)
        figure.suptitle(
            visible(f"{report.airplane.title} ({report.airplane.registration})"), fontweight="bold"
        )
        figure.supxlabel(
            "minutes from the loss of generation; the approved flight manual governs", fontsize=9
        )
        stamp = {"Date": None} if path.suffix == ".svg" else None
        try:
            figure.savefig(path, dpi=150, metadata=stamp)
        except OSError as error:
            raise UsageError(f"cannot write {path}: {error.strerror}") from None


def _draw_phases(report: EnduranceReport, axes: Axes) -> None:
    start = 0.0
    for use, hatch in zip(report.plain.phases, HATCHES, strict=True):
        axes.barh(0, use.minutes, left=start, height=0.6, color="white", edgecolor="black", hatch=hatch)
        words = f"{use.phase}\n{use.amps:.0f} A"
        axes.annotate(words, (start + use.minutes / 2, 0.36), ha="center", va="bottom", fontsize=8)
        start += use.minutes
    axes.set_ylim(-0.4, 1.1)
    axes.set_yticks([])
    axes.spines[["top", "right", "left"]].set_visible(False)
    axes.set_title(f"as stated: {report.plain.total_minutes:.0f} min", loc="left", fontsize=10)


def _draw_survival(report: EnduranceReport, axes: Axes) -> None:
    spread = report.spread
    totals = np.percentile(_samples(report), np.linspace(0.0, 100.0, POINTS))
    minutes, shares = (
        np.concatenate(([0.0], totals)),
        np.concatenate(([100.0], np.linspace(100.0, 0.0, POINTS))),
    )
    axes.plot(minutes, shares, color="black", linewidth=1.8)
    low = f"low case: {spread.low:.0f} min"
    required = f"asked for: {report.plain.required_minutes:g} min"
    axes.axvline(spread.low, color="black", linestyle="--", linewidth=1.2, label=low)
    axes.axvline(report.plain.required_minutes, color=GREY, linestyle=":", linewidth=2.0, label=required)
    axes.set_ylim(0, 102)
    axes.set_xlim(0, max(float(totals[-1]), report.plain.required_minutes) * 1.04)
    axes.set_ylabel("% of flights with power")
    axes.grid(color="#d0d0d0", linewidth=0.5)
    axes.spines[["top", "right"]].set_visible(False)
    axes.legend(loc="upper right", frameon=True, fontsize=9)


def _samples(report: EnduranceReport) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    needs = demand(report.airplane, report.plan.positions)
    return sample_minutes(
        report.airplane.battery,
        report.conditions,
        needs,
        report.plan,
        samples=report.spread.samples,
        seed=report.spread.seed,
    )
