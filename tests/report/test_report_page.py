"""The HTML report of a run, read as a document; what a browser makes of it is in test_page_in_chromium.py."""

import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from runner.language.catalogue import STANDING_CAUTION
from runner.report.draw.page_frame import FOLDER
from runner.report.origin import RecordProof
from runner.report.report_page import run_page
from runner.report.run.run_report import RunReport
from runner.screen.full.palette import Pair
from tests.report.run_sample import PILOT, reports
from tests.screen.contrast import contrast


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> RunReport:
    """The busy run after thirty others."""
    return reports(tmp_path_factory.mktemp("logbook")).run


@pytest.fixture(scope="module")
def page(report: RunReport) -> str:
    """Its page."""
    return run_page(report)


def _words(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<style>.*?</style>|<[^>]+>", " ", page, flags=re.DOTALL))


def test_the_page_says_who_when_and_on_which_airplane(page: str, report: RunReport) -> None:
    """With UTC and local time, the tool and the ear, and the hashes."""
    words = _words(page)
    for part in (
        "QQ-ML2",
        "Merlow ML-2, reserve bus, before the first flight of the day",
        "2025-11-25 09:20:00 UTC, 10:20:00 local (UTC+01:00)",
        "-3.5 degrees Celsius",
        "eyesout 9.9.9, ear builtin, network 0123456789ab",
        report.proof.sha256,
        report.header.check_sha256,
        "2 squawks, 1 caution",
        "42 of 43 items answered",
        "1 did not apply, 1 correction",
        STANDING_CAUTION,
    ):
        assert part in words


def test_the_page_never_judges_the_airplane(page: str) -> None:
    """It points at the regulation, says that it decides nothing, and never uses these words."""
    words = _words(page).lower()
    assert "14 cfr 43.9" in words
    assert "14 cfr 91.213(d)" in words
    assert "answers none of them" in words
    assert not re.search(r"safe to fly|airworthy|may be flown|cleared for", words)


def test_a_corrected_answer_is_struck_through_and_still_there(page: str) -> None:
    """Beside the time of its correction, and followed by what replaced it."""
    assert "<del>three green</del>" in page
    assert "corrected 02:09.0" in page
    assert page.index("<del>three green</del>") < page.rindex("nose out")


def test_what_a_person_wrote_is_never_markup(page: str) -> None:
    """The pilot's name holds a tag."""
    assert PILOT not in page
    assert "Ā. Invented &lt;b&gt;&amp;" in page


def test_a_squawk_tells_what_hangs_on_its_breaker_and_bus_and_what_was_noted(page: str) -> None:
    """The gear lamps are on the reserve bus, and someone has ordered the bulb."""
    words = _words(page)
    assert "Shared: reserve bus also feeds flood lamps, left attitude gyro, reserve inverter losses" in words
    assert "B. Invented: noted: bulb is on order" in words


def test_everything_to_be_noticed_has_a_word_of_its_own(page: str) -> None:
    """Caution, unable, put off and faster than a look; colour only repeats it."""
    words = _words(page)
    assert "caution Volts, reserve load: 22.8 volts , expected 24.8 to 26.3 volts" in words
    assert "unable Right attitude and compass flags" in words
    assert re.search(r"put off Fire test, red lights, at 02:17.0 ?; answered at 05:\d\d.\d", words)
    assert "faster than a look Fan speed, needles and digits: answered after 0.4 s" in words


def test_the_page_is_one_file(page: str) -> None:
    """Clips travel inside it, nothing is fetched, no script runs."""
    assert page.count('src="data:audio/wav;base64,UklGR') == 2
    assert re.findall(r"https?://[^\"< ]+", page) == []
    assert not re.search(r"<script|@import|url\(", page)


def test_the_charts_are_well_formed_and_named(page: str) -> None:
    """Spin-ups, both gyros and whatever has moved; the ring is on this run."""
    charts = [ET.fromstring(each) for each in re.findall(r"<svg.*?</svg>", page, re.DOTALL)]  # noqa: S314 - our own words
    names = [chart.get("aria-label") for chart in charts]
    assert names[:3] == [
        "Chart of the spin-up times",
        "Chart of left attitude gyro",
        "Chart of left compass gyro",
    ]
    assert all(chart.get("role") == "img" and chart.find("desc") is not None for chart in charts)
    assert page.count('class="ring"') == len(charts) - 2  # the stuck flag is no value to trend


def test_a_damaged_record_and_a_selector_left_away_are_said_first(report: RunReport) -> None:
    """Before any result; what is missing is missing openly."""
    odd = replace(report, proof=RecordProof(12, "ab" * 32, "line 12 is missing"), selector_left_at="reserve")
    words = _words(run_page(odd))
    assert "Record not whole: line 12 is missing." in words
    assert "Warning: the selector was last reported at reserve, not at off." in words
    assert words.index("Record not whole") < words.index("Squawks")


def test_an_empty_run_has_a_page_as_well(report: RunReport) -> None:
    """Nothing answered yet: every item is listed as such."""
    items = tuple(replace(item, given=(), put_off_at=()) for item in report.items)
    bare = replace(report, items=items, squawks=(), spin_ups=(), notes=(), incidents=(), ended_at=None)
    words = _words(run_page(bare))
    assert "No squawk was raised." in words
    assert "still open in the record" in words
    assert "Nothing beside the answers." in words


def _colours(style: str) -> dict[str, str]:
    return dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", style))


def test_every_ink_has_a_contrast_of_seven_to_one() -> None:
    """In light and in dark (W3C WCAG 2.2, success criterion 1.4.6), on page and panel."""
    style = (FOLDER / "report.css").read_text(encoding="utf-8")
    light = _colours(style[: style.index("@media screen")])
    dark = light | _colours(style[style.index("@media screen") : style.index("* { box-sizing")])
    for colours in (light, dark):
        for ink in ("ink", "soft", "limit"):
            assert contrast(Pair(colours[ink], colours["ground"])) >= 7, ink
        assert contrast(Pair(colours["ink"], colours["panel"])) >= 7
        for tone in ("caution", "warning"):
            assert contrast(Pair(colours[f"{tone}-ink"], colours[f"{tone}-ground"])) >= 7, tone


def test_a_lost_clip_is_told(tmp_path: Path) -> None:
    """Its place says why it is not there."""
    made = reports(tmp_path, past=1)
    note = made.run.notes[0]
    assert note.clip is not None
    lost = replace(note, clip=replace(note.clip, content=b"", fault="clip 0123 in x: No such file"))
    typed = replace(note, clip=None, text="left <lamp> flickers")
    assert "“left &lt;lamp&gt; flickers”" in run_page(replace(made.run, notes=(typed,)))
    assert "Sound clip lost: clip 0123 in x: No such file" in run_page(replace(made.run, notes=(lost,)))
