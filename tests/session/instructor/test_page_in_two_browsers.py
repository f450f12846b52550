"""The page in two real browsers at once, beside a real drill: they agree, recover, and are shut to others."""

import os
import signal
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest

from runner.logbook.drilled.drill_book import DrillBook
from runner.screen.full.palette import Pair
from tests.report.chromium import Chromium, chromium, needs_chromium
from tests.screen.contrast import contrast
from tests.session.instructor.drill_process import FAULT, DrillProcess, drill_process

pytestmark = [pytest.mark.browser, needs_chromium]

SIZES = ((1024, 768), (768, 1024), (390, 844))
"""A tablet both ways, a phone: CSS pixels, common practice, no source."""
TOUCH = 44
"""Least side of a touch target in CSS pixels: WCAG 2.2, success criterion 2.5.5 (level AAA)."""


@pytest.fixture(scope="module")
def browsers(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Chromium, Chromium]]:
    """Two of them, with nothing in common."""
    with ExitStack() as stack:
        yield (
            stack.enter_context(chromium(tmp_path_factory.mktemp("one"))),
            stack.enter_context(chromium(tmp_path_factory.mktemp("two"))),
        )


@pytest.fixture
def drill(tmp_path: Path) -> Iterator[DrillProcess]:
    """A drill that has begun."""
    with drill_process(tmp_path) as process:
        process.type("continue")
        yield process


def text(browser: Chromium, selector: str) -> str:
    """The words of an element."""
    return str(browser.value(f"document.querySelector({selector!r}).innerText"))


def wait_for(browser: Chromium, selector: str, words: str) -> None:
    """Until these words stand in the element."""
    browser.wait_until(f"document.querySelector({selector!r}).innerText.includes({words!r})")


def test_two_browsers_see_the_same_and_act_for_each_other(
    browsers: tuple[Chromium, Chromium], drill: DrillProcess
) -> None:
    """What the student does shows in both; a freeze, a trip, a mend and a remark in one show in the other."""
    one, other = browsers
    for browser in browsers:
        browser.open(drill.address)
        wait_for(browser, "#faults", FAULT)
        assert browser.happened("Log.entryAdded", "Runtime.exceptionThrown") == []
    drill.type("selector to reserve")
    for browser in browsers:
        wait_for(browser, "#timeline", "moves feed selector: reserve")
        wait_for(browser, "#panel", "reserve")
    one.click("#freeze")
    wait_for(other, "#freeze", "Let time go on")
    drill.read_until("The instructor has stopped the airplane's time")
    held = text(other, "#power")
    other.click("#freeze")
    wait_for(one, "#timeline", "lets time go on")
    assert text(one, "#power") == held
    other.click("#trip")
    other.click("#find")
    other.write("attitude tumbles")
    other.wait_until("document.querySelectorAll('#known li').length < 4")
    other.click("#known button")
    wait_for(one, "#faults", "tumbles")
    one.click("#faults li:first-child button")
    wait_for(other, "#timeline", f"mends {FAULT}")
    other.wait_until(f"!document.querySelector('#faults').innerText.includes({FAULT!r})")
    one.click("#remark")
    one.click("#remark-box .by")
    one.write("Bea")
    one.click("#remark-words")
    one.write("look at <b>each</b> lamp")
    one.click("#remark-give")
    wait_for(other, "#timeline", "look at <b>each</b> lamp")
    sections = ("#state", "#item", "#answers", "#faults", "#power", "#panel", "#timeline")
    assert [text(one, each) for each in sections] == [text(other, each) for each in sections]


def test_a_lost_connection_is_told_and_made_good(
    browsers: tuple[Chromium, Chromium], drill: DrillProcess
) -> None:
    """A process that stands still, as a network that is gone; what happened meanwhile comes with the next."""
    browser = browsers[0]
    browser.open(drill.address)
    wait_for(browser, "#faults", FAULT)
    os.kill(drill.number, signal.SIGSTOP)
    try:
        wait_for(browser, "#banner", "Connection lost at")
        assert browser.value(
            "[...document.querySelectorAll('nav button, #faults button')].every(b => b.disabled)"
        )
        drill.type("selector to reserve")
    finally:
        os.kill(drill.number, signal.SIGCONT)
    wait_for(browser, "#banner", "Connected again, and up to date")
    wait_for(browser, "#timeline", "moves feed selector: reserve")
    assert browser.value("!document.querySelector('#freeze').disabled")
    browser.click("#freeze")
    wait_for(browser, "#freeze", "Let time go on")


def test_a_drill_that_dies_is_told_at_once(browsers: tuple[Chromium, Chromium], drill: DrillProcess) -> None:
    """The connection breaks off."""
    browser = browsers[0]
    browser.open(drill.address)
    wait_for(browser, "#faults", FAULT)
    os.kill(drill.number, signal.SIGKILL)
    browser.wait_until("document.querySelector('#banner').innerText.includes('Connection lost')", 2.0)


def test_a_wrong_token_sees_nothing(browsers: tuple[Chromium, Chromium], drill: DrillProcess) -> None:
    """Two words, and no order is done from there."""
    browser = browsers[1]
    wrong = drill.address[:-3] + ("xy/" if drill.address[-3:-1] != "xy" else "yx/")
    browser.open(wrong)
    assert browser.value("document.documentElement.innerText") == "Not Found"
    script = """fetch('order', {method: 'POST', body: '{"order": "freeze"}'}).then(answer => answer.status)"""
    answer = browser.ask("Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True)
    assert answer["result"]["value"] == 404
    browser.open(drill.address)
    wait_for(browser, "#faults", FAULT)
    assert text(browser, "#freeze") == "Freeze"


def test_the_page_asks_nothing_of_anybody_else(
    browsers: tuple[Chromium, Chromium], drill: DrillProcess
) -> None:
    """Every request goes to the address that was printed."""
    browser = browsers[0]
    browser.open(drill.address)
    wait_for(browser, "#faults", FAULT)
    seen = browser.happened("Network.requestWillBeSent")
    asked = [each["request"]["url"] for each in seen if each["documentURL"] == drill.address]
    assert len(asked) > 3
    assert all(url.startswith((drill.address, "data:")) for url in asked)


def test_a_signature_stands_in_the_debrief(browsers: tuple[Chromium, Chromium], drill: DrillProcess) -> None:
    """Given after the student has left: the debrief waits for it while a page looks."""
    browser = browsers[0]
    browser.open(drill.address)
    wait_for(browser, "#faults", FAULT)
    drill.end_lines()
    drill.read_until("waiting for the instructor's signature")
    browser.click("#sign")
    browser.click("#sign-box .by")
    browser.value("document.querySelector('#sign-box .by').value = ''")
    browser.write("Bea")
    browser.click("#sign-met")
    wait_for(browser, "#banner", "This drill is over")
    code, rest = drill.end()
    assert code == 1
    assert "Bea: standard met" in rest
    with DrillBook(drill.folder / "logbook") as book:
        assert type(book.read("last").events[-1]).__name__ == "DrillSigned"


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_page_fits_and_can_be_touched(
    browsers: tuple[Chromium, Chromium], drill: DrillProcess, width: int, height: int, scheme: str
) -> None:
    """No part is wider than the window, every button is large, DRILL stands on a ground of its own."""
    browser = browsers[0]
    browser.ask(
        "Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=False
    )
    browser.ask("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": scheme}])
    browser.open(drill.address)
    wait_for(browser, "#faults", FAULT)
    assert browser.value("document.documentElement.scrollWidth <= innerWidth")
    sides = browser.value(
        "[...document.querySelectorAll('nav button, #faults button')].flatMap("
        "each => [each.offsetWidth, each.offsetHeight])"
    )
    assert min(sides) >= TOUCH
    assert text(browser, "h1") == "DRILL"
    ink, ground = browser.value(
        "[getComputedStyle(document.querySelector('h1')).color,"
        " getComputedStyle(document.querySelector('header')).backgroundColor]"
    )
    assert contrast(Pair(_hex(ink), _hex(ground))) >= 7
    assert _hex(ground) == {"light": "#5a1f8a", "dark": "#c99bff"}[scheme]


def _hex(words: str) -> str:
    """`rgb(90, 31, 138)` as `#5a1f8a`."""
    return "#" + "".join(f"{int(each):02x}" for each in words[4:-1].split(","))
