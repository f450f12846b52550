"""The one-page PDF, read back with pypdf: squawks first, one page, any name, no verdict."""

import importlib.util
import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from runner.errors import UsageError
from runner.logbook.squawk.squawk_record import SquawkState
from runner.report.draw.paper import PaperSize, pdf_of
from runner.report.draw.paper_sheet import Discrepancy, Sheet
from runner.report.fleet.airplane_sheet import fleet_sheet
from runner.report.run.run_sheet import run_sheet
from tests.report.run_sample import Reports, reports

POINT = 72 / 25.4
"""Points in a millimetre."""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Reports:
    """A busy run and its airplane."""
    return reports(tmp_path_factory.mktemp("logbook"))


def _read(sheet: Sheet, size: PaperSize = PaperSize.A4) -> PdfReader:
    return PdfReader(io.BytesIO(pdf_of(sheet, size)))


def _words(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


@pytest.mark.parametrize(
    ("size", "width", "height"),
    [(PaperSize.A4, 210 * POINT, 297 * POINT), (PaperSize.LETTER, 8.5 * 72, 11 * 72)],
)
def test_a_busy_run_and_its_airplane_are_one_page_each(
    made: Reports, size: PaperSize, width: float, height: float
) -> None:
    """On either paper (ISO 216; ANSI/ASME Y14.1); with six items squawked it takes a second one."""
    (busy,) = made.airplane.airplanes
    assert len(busy.recurrences) == 6
    assert len(_read(fleet_sheet(made.airplane), size).pages) == 2
    usual = replace(made.airplane, airplanes=(replace(busy, recurrences=busy.recurrences[:3]),))
    for sheet in (run_sheet(made.run), fleet_sheet(usual)):
        (page,) = _read(sheet, size).pages
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            (width, height), abs=0.5
        )


def test_squawks_come_first_with_blanks_to_fill_in(made: Reports) -> None:
    """The blanks of 14 CFR 43.9(a) (from memory), for notes only."""
    words = _words(_read(run_sheet(made.run)))
    assert words.index("Gear lamps nose out") < words.index("To be noticed") < words.index("Measured")
    assert words.count("action taken") == 2
    assert "name, certificate no. and kind" in words
    assert "This paper is no such entry and answers none of them. The blanks are for notes." in words
    assert "safe to fly" not in words.lower()


def test_every_answer_is_on_the_paper(made: Reports) -> None:
    """The corrected one as well, and any letter of a name."""
    words = _words(_read(run_sheet(made.run)))
    for part in (
        "Ā. Invented <b>&",
        "Gear lamps: (three green, corrected) nose out, squawk",
        "Right attitude and compass flags: unable",
        "flag pulled, 44.2 s",
        "Volts, reserve load 22.8 volts 24.8 to 26.3 volts; caution 24.8 to 26.5; stop below 20.0 caution",
        made.run.proof.sha256,
        "Advisory only, for use on the ground",
        "Page 1 of 1.",
    ):
        assert part in words, part


def test_more_squawks_than_a_page_holds_go_onto_the_next(made: Reports) -> None:
    """Nothing is left out to keep to one page."""
    many = replace(made.run, squawks=made.run.squawks * 10)
    reader = _read(run_sheet(many))
    assert len(reader.pages) > 1
    assert _words(reader).count("action taken") == 20


def test_no_page_is_torn_or_nearly_empty(made: Reports) -> None:
    """A squawk stands together with its blanks, whatever its length, and a heading with what it heads."""
    (airplane,) = made.airplane.airplanes
    for count in (3, 6, 11):
        many = replace(airplane, recurrences=airplane.recurrences * count)
        for report in (
            replace(made.airplane, airplanes=(many,)),
            replace(made.airplane, airplanes=(many,) * 9),
        ):
            pages = [page.extract_text() for page in _read(fleet_sheet(report)).pages]
            for text in pages:
                body = text.partition("Advisory only")[0].split()
                assert len(body) > 30
                assert (
                    text.count("action taken") == text.count("signature") == text.count("name, certificate")
                )


def test_headings_are_bookmarks(made: Reports) -> None:
    """Who looks for one tail in the paper of a fleet finds it in the reader's list (ISO 32000-1, 12.3.3)."""
    outline = _read(run_sheet(made.run)).outline
    assert [each.title for each in outline if not isinstance(each, list)][:3] == [
        "Squawks",
        "To be noticed",
        "Measured",
    ]


def test_a_closed_squawk_has_no_blanks(made: Reports) -> None:
    """It is done."""
    closed = replace(made.run.squawks[0], state=SquawkState.CLOSED)
    blocks = run_sheet(replace(made.run, squawks=(closed,))).blocks
    assert [block.to_fill_in for block in blocks if isinstance(block, Discrepancy)] == [()]


def test_the_same_report_gives_the_same_bytes(made: Reports) -> None:
    """Its date is that of the report, not of the printing."""
    sheet = run_sheet(made.run)
    assert pdf_of(sheet, PaperSize.A4) == pdf_of(sheet, PaperSize.A4)


def test_without_its_libraries_it_says_what_to_install(
    made: Reports, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The rest of the reports needs neither."""
    monkeypatch.setattr(importlib.util, "find_spec", lambda _name: None)
    with pytest.raises(UsageError, match=r'pip install "eyesout\[paper\]"'):
        pdf_of(run_sheet(made.run), PaperSize.A4)
