"""The bus diagram."""

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import everything_works, on_battery
from runner.airplane.model.source import GroundPower
from runner.report.bus.bus_report import BusReport, bus_report
from runner.report.bus.diagram import diagram_svg
from runner.report.draw import svg

AIRPLANES = Path(__file__).parents[3] / "checklists" / "airplanes"
SPACE = "{http://www.w3.org/2000/svg}"


@pytest.fixture(params=["merlow-ml2", "tarn-qx83"])
def airplane(request: pytest.FixtureRequest) -> Airplane:
    """Each shipped airplane in turn."""
    return load_airplane(AIRPLANES / f"{request.param}.yaml")


def drawn(report: BusReport) -> ET.Element:
    """The document, parsed."""
    return ET.fromstring(diagram_svg(report))  # noqa: S314 - our own words


def reserve(airplane: Airplane) -> BusReport:
    """The reserve position on the battery alone."""
    return bus_report(airplane, on_battery(airplane, airplane.selector.reserve))


def test_every_source_bus_link_and_load_is_on_the_page(airplane: Airplane) -> None:
    """By name, with its state or its amperes."""
    texts = {each.text or "" for each in drawn(reserve(airplane)).iter(f"{SPACE}text")}
    assert texts >= {*airplane.sources, *airplane.links}
    for bus in airplane.buses:
        assert any(text.startswith(f"{bus}: ") for text in texts)
    for load in airplane.loads.values():
        assert f"{load.name}, {load.amps:g} A" in texts


def test_life_is_told_by_dots_lines_and_words(airplane: Airplane) -> None:
    """As many full dots as live loads, as many hollow ones as dead; dead buses say so."""
    report = reserve(airplane)
    page = drawn(report)
    full = [dot for dot in page.iter(f"{SPACE}circle") if dot.get("fill") == svg.INK]
    hollow = [dot for dot in page.iter(f"{SPACE}circle") if dot.get("fill") != svg.INK]
    assert len(full) == len(report.after.solution.alive)
    assert len(hollow) == len(airplane.loads) - len(full)
    dead = [each.text for each in page.iter(f"{SPACE}text") if (each.text or "").endswith("bus: DEAD")]
    assert len(dead) == len(airplane.buses) - len(report.after.solution.carriers)


def test_only_black_white_and_one_grey_are_used(airplane: Airplane) -> None:
    """It loses nothing on a printer without colour."""
    inks = {
        each.get(key)
        for each in drawn(reserve(airplane)).iter()
        for key in ("fill", "stroke")
        if each.get(key) not in (None, "none")
    }
    assert inks <= {svg.INK, svg.FAINT, "#ffffff"}


def test_all_words_lie_within_the_page(airplane: Airplane) -> None:
    """By the width of the widest font of the list."""
    page = drawn(reserve(airplane))
    width, height = float(page.get("width", 0)), float(page.get("height", 0))
    for each in page.iter(f"{SPACE}text"):
        needed = svg.text_width(each.text or "", is_bold=each.get("font-weight") == "bold")
        scale = float(each.get("font-size", svg.SIZE)) / svg.SIZE
        assert float(each.get("x", 0)) + needed * scale <= width
        assert float(each.get("y", 0)) <= height


def test_nothing_is_dashed_but_the_open_relays_when_everything_works(airplane: Airplane) -> None:
    """In normal the only dead things are the links that the selector keeps open, and the cart."""
    page = drawn(bus_report(airplane, everything_works(airplane)))
    dashed = [each for each in page.iter(f"{SPACE}rect") if each.get("stroke-dasharray")]
    kept_open = [link for link in airplane.links.values() if airplane.selector.normal not in link.closed_in]
    carts = [source for source in airplane.sources.values() if isinstance(source, GroundPower)]
    assert len(dashed) == len(kept_open) + len(carts)


def test_it_says_that_the_flight_manual_decides(airplane: Airplane) -> None:
    """On the page itself, since it hangs alone on a wall."""
    texts = " ".join(each.text or "" for each in drawn(reserve(airplane)).iter(f"{SPACE}text"))
    assert "The approved flight manual, the placards and the pilot in command decide." in texts
    assert "nvented" in texts
