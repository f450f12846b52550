"""The endurance chart."""

import sys
from datetime import date
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.minutes.capacity import planned_conditions
from runner.errors import UsageError
from runner.report.bus.endurance_chart import draw_endurance
from runner.report.bus.endurance_report import EnduranceReport, endurance_report

AIRPLANES = Path(__file__).parents[3] / "checklists" / "airplanes"


@pytest.fixture(scope="module")
def report() -> EnduranceReport:
    """The Merlow as it stands in its file."""
    airplane = load_airplane(AIRPLANES / "merlow-ml2.yaml")
    return endurance_report(
        airplane, planned_conditions(airplane.battery, date(2026, 11, 25)), airplane.endurance
    )


def test_the_svg_says_its_figures_in_words(report: EnduranceReport, tmp_path: Path) -> None:
    """Title, low case, what is asked for, the phases, and that the manual governs."""
    draw_endurance(report, tmp_path / "chart.svg")
    page = ET.parse(tmp_path / "chart.svg")  # noqa: S314 - our own words
    words = " ".join(
        text for each in page.iter("{http://www.w3.org/2000/svg}text") for text in each.itertext()
    )
    for part in (
        "Merlow ML-2",
        f"low case: {report.spread.low:.0f} min",
        "asked for: 30 min",
        "cruise",
        "manual governs",
    ):
        assert part in words


def test_the_png_is_a_png(report: EnduranceReport, tmp_path: Path) -> None:
    """By its signature (PNG specification, 5.2)."""
    draw_endurance(report, tmp_path / "chart.png")
    assert (tmp_path / "chart.png").read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"


def test_the_same_report_gives_the_same_svg(report: EnduranceReport, tmp_path: Path) -> None:
    """No date and no random name is in it."""
    for name in ("one.svg", "two.svg"):
        draw_endurance(report, tmp_path / name)
    assert (tmp_path / "one.svg").read_bytes() == (tmp_path / "two.svg").read_bytes()


def test_another_suffix_is_refused(report: EnduranceReport, tmp_path: Path) -> None:
    """With the two that are known."""
    with pytest.raises(UsageError, match=r"neither \.svg nor \.png"):
        draw_endurance(report, tmp_path / "chart.gif")


def test_a_folder_that_is_not_there_is_one_line(report: EnduranceReport, tmp_path: Path) -> None:
    """Not a traceback."""
    with pytest.raises(UsageError, match="cannot write"):
        draw_endurance(report, tmp_path / "none" / "chart.png")


def test_without_matplotlib_it_says_what_to_install(
    report: EnduranceReport, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One line, and the command that mends it."""
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    with pytest.raises(UsageError, match="pip install"):
        draw_endurance(report, tmp_path / "chart.svg")
