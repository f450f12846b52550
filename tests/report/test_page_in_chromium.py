"""The HTML reports in a real browser: no error, a name for everything, one or two sheets of paper."""

import io
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from runner.report.fleet.airplane_report import FleetReport
from runner.report.report_page import fleet_page, run_page
from tests.report.chromium import Chromium, chromium, needs_chromium
from tests.report.run_sample import reports

pytestmark = [pytest.mark.browser, needs_chromium]

PAPERS = {"A4": (210 / 25.4, 297 / 25.4), "Letter": (8.5, 11.0)}
"""ISO 216 and ANSI/ASME Y14.1, inches."""

NAMED = ("image", "button", "slider", "link", "Audio", "table", "region", "figure")
"""Roles that are worth nothing to a screen reader without a name."""


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chromium]:
    """One browser for all of these tests."""
    with chromium(tmp_path_factory.mktemp("profile")) as found:
        yield found


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The page of a busy run and the page of its airplane."""
    folder = tmp_path_factory.mktemp("pages")
    made = reports(folder / "logbook")
    for name, text in (
        ("run", run_page(made.run)),
        ("airplane", fleet_page(made.airplane)),
        ("fleet", fleet_page(_two(made.airplane))),
    ):
        (folder / f"{name}.html").write_text(text, encoding="utf-8")
    return {name: folder / f"{name}.html" for name in ("run", "airplane", "fleet")}


def _two(report: FleetReport) -> FleetReport:
    return replace(report, airplanes=report.airplanes * 2)


PHONE = {"width": 390, "height": 844, "deviceScaleFactor": 1, "mobile": True}
"""Points of a common phone (from memory)."""


@pytest.mark.parametrize("name", ["run", "airplane", "fleet"])
def test_a_phone_shows_every_cell_without_scrolling_aside(
    browser: Chromium, pages: dict[str, Path], name: str
) -> None:
    """The outcome of an item and the result of a run stand within the width of the screen."""
    browser.ask("Emulation.setDeviceMetricsOverride", **PHONE)
    try:
        browser.open(pages[name])
        assert browser.value("document.documentElement.scrollWidth") == PHONE["width"]
        edges = browser.value(
            "[...document.querySelectorAll('.wide td, .wide th[scope=row]')].filter(cell => cell.textContent)"
            ".map(cell => cell.getBoundingClientRect()).map(box => [box.left, box.right, box.width])"
        )
    finally:
        browser.ask("Emulation.clearDeviceMetricsOverride")
    assert edges
    assert all(left >= 0 and right <= PHONE["width"] and width > 0 for left, right, width in edges)


@pytest.mark.parametrize("name", ["run", "airplane"])
def test_the_page_loads_without_a_word_of_complaint(
    browser: Chromium, pages: dict[str, Path], name: str
) -> None:
    """Nothing on the console, nothing asked of a network: only the file and what is inside it."""
    browser.open(pages[name])
    assert browser.happened("Log.entryAdded", "Runtime.exceptionThrown", "Runtime.consoleAPICalled") == []
    asked = [each["request"]["url"] for each in browser.happened("Network.requestWillBeSent")]
    assert {url.partition(":")[0] for url in asked} <= {"file", "data"}


@pytest.mark.parametrize("name", ["run", "airplane"])
def test_everything_has_an_accessible_name(browser: Chromium, pages: dict[str, Path], name: str) -> None:
    """Images, controls, links, regions; one first heading, one main part; the language is told."""
    browser.open(pages[name])
    nodes = [(node["role"]["value"], node.get("name", {}).get("value", "")) for node in browser.nodes()]
    roles = [role for role, _ in nodes]
    nameless = [
        role for role, words in nodes if role in NAMED and not words and role not in ("table", "figure")
    ]
    assert nameless == []
    assert roles.count("main") == 1
    assert "image" in roles
    assert "rowheader" in roles
    assert "columnheader" in roles
    assert browser.value("document.querySelectorAll('h1').length") == 1
    assert browser.value("document.documentElement.lang") == "en"
    assert browser.value("[...document.querySelectorAll('th')].every(th => th.scope)")


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["run", "airplane"])
def test_the_page_prints_to_one_or_two_sheets(
    browser: Chromium, pages: dict[str, Path], name: str, paper: str
) -> None:
    """With thirty runs of charts, two squawks and notes; the caution is on every sheet."""
    browser.open(pages[name])
    sheets = PdfReader(io.BytesIO(browser.printed(*PAPERS[paper]))).pages
    assert 1 <= len(sheets) <= 2
    assert all("Advisory only" in sheet.extract_text() for sheet in sheets)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_page_follows_light_and_dark(browser: Chromium, pages: dict[str, Path], scheme: str) -> None:
    """The ground of the page is white or nearly black, and no part is wider than the window."""
    browser.ask("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": scheme}])
    browser.open(pages["run"])
    ground = browser.value("getComputedStyle(document.body).backgroundColor")
    assert ground == {"light": "rgb(255, 255, 255)", "dark": "rgb(18, 18, 18)"}[scheme]
    assert browser.value("document.documentElement.scrollWidth <= innerWidth")


def test_a_sound_clip_can_be_played(browser: Chromium, pages: dict[str, Path]) -> None:
    """The browser reads its length out of the page itself: half a second (run_sample.sound)."""
    browser.open(pages["run"])
    script = """new Promise(done => {
        const audio = document.querySelector('audio');
        audio.onloadedmetadata = () => done(audio.duration);
        audio.onerror = () => done(-1);
        audio.preload = 'metadata';
        audio.load();
    })"""
    answer = browser.ask("Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True)
    assert answer["result"]["value"] == pytest.approx(0.5, abs=0.01)
