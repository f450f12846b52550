import sys
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from matplotlib.figure import Figure

from runner.errors import UsageError
from runner.report.trend import trend_chart
from runner.report.trend.trend_chart import draw_trend
from runner.trend.judged_series import trend_of
from tests.report.trend_sample import drifting
from tests.trend.sample import gyro

TEXT = "{http://www.w3.org/2000/svg}text"


def _words(path: Path) -> str:
    return " ".join(text for each in ET.parse(path).iter(TEXT) for text in each.itertext())  # noqa: S314 - our own words


def test_the_svg_says_everything_in_words(tmp_path: Path) -> None:
    """The verdict, what each mark and line is, the unit, and who decides."""
    draw_trend(trend_of(drifting()), tmp_path / "gyro.svg", "QQ-ZZZ (invented)")
    words = _words(tmp_path / "gyro.svg")
    for part in (
        "QQ-ZZZ (invented): left gyro",
        "drifting since 2025-",
        "run, off, at mean temperature",
        "as measured",
        "moving average (EWMA)",
        "usual range (3 sigma)",
        "drift (Theil-Sen)",
        "reported beyond",
        "seconds",
        "licensed maintenance govern",
    ):
        assert part in words


def test_the_same_trend_gives_the_same_svg(tmp_path: Path) -> None:
    """No date, no random names: a report can be compared with an older one."""
    for name in ("one.svg", "two.svg"):
        draw_trend(trend_of(drifting()), tmp_path / name)
    assert (tmp_path / "one.svg").read_bytes() == (tmp_path / "two.svg").read_bytes()


def test_the_png_is_a_png(tmp_path: Path) -> None:
    """By its signature (PNG specification, 5.2); too few runs have a picture too."""
    draw_trend(trend_of(gyro(2)), tmp_path / "gyro.png")
    assert (tmp_path / "gyro.png").read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"


def test_a_near_limit_is_drawn_with_its_figure(tmp_path: Path) -> None:
    """A far one is told in the verdict only."""
    draw_trend(trend_of(gyro(20, limit=43.0)), tmp_path / "near.svg")
    draw_trend(trend_of(gyro(20, limit=430.0)), tmp_path / "far.svg")
    assert "limit 43" in _words(tmp_path / "near.svg")
    assert "limit" not in _words(tmp_path / "far.svg")


def test_the_legend_covers_no_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It lies outside of the field with the runs, the averages and the limit."""
    figures: list[Figure] = []
    monkeypatch.setattr(trend_chart, "_save", lambda figure, _path: figures.append(figure))
    draw_trend(trend_of(drifting()), tmp_path / "gyro.svg")
    (figure,) = figures
    figure.draw_without_rendering()
    above = figure.axes[0]
    legends = [*figure.legends, *filter(None, [above.get_legend()])]
    assert legends
    assert not any(legend.get_window_extent().overlaps(above.get_window_extent()) for legend in legends)


def test_what_cannot_be_drawn_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another format, no runs, no such folder, no matplotlib."""
    trend = trend_of(gyro(20))
    with pytest.raises(UsageError, match=r"neither \.svg nor \.png"):
        draw_trend(trend, tmp_path / "gyro.gif")
    with pytest.raises(UsageError, match="has no runs to draw"):
        draw_trend(trend_of(gyro(0)), tmp_path / "gyro.svg")
    with pytest.raises(UsageError, match="cannot write"):
        draw_trend(trend, tmp_path / "none" / "gyro.svg")
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    with pytest.raises(UsageError, match=r'pip install "eyesout\[plots\]"'):
        draw_trend(trend, tmp_path / "gyro.svg")
