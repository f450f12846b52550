"""No word of a person steers a terminal, a page, a drawing, a table or a paper."""

import csv
import io
import json
import re
import unicodedata
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from runner.cli import main
from runner.core.record.entry import RunStarted
from runner.language.catalogue import Outcome
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.maintenance_record import Noted, Serviced, file_record
from runner.report.draw.csv_text import csv_text
from runner.report.draw.svg import page, text
from runner.report.draw.text_table import table
from runner.session.parts import load_parts
from runner.visible import visible, visible_in, visible_lines
from tests.logbook.sample import STARTED_AT, answer

ESC, BEL, CSI, OVERRIDE, ISOLATE, DEL = "\x1b", "\x07", "\x9b", "\u202e", "\u2066", "\x7f"
HOSTILE = f"{ESC}[2J{ESC}]0;owned{BEL}{CSI}31m{OVERRIDE}rotaipar{ISOLATE}{DEL}\r\nforged line"


def steering(shown: str) -> list[str]:
    """What could still steer: control characters but line ends and tabs, and bidirectional controls.

    By the Unicode database: categories Cc, Cs, Zl, Zp, and the bidirectional classes of Annex 9.
    """
    bidi = ("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI")
    return [
        letter
        for letter in shown
        if letter not in "\n\t"
        and (
            unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp")
            or unicodedata.bidirectional(letter) in bidi
        )
    ]


def test_every_steering_character_of_unicode_is_written_out() -> None:
    """All code points, against Python's Unicode database."""
    everything = "".join(map(chr, range(0x110000)))
    assert steering(visible(everything)) == []
    assert "\n" not in visible(everything)
    assert steering(visible_lines(everything)) == []


def test_what_is_written_out_is_the_same_in_json() -> None:
    """The JSON that is shown has the value that was recorded (RFC 8259, section 7)."""
    for letter in (CSI, OVERRIDE, DEL, "\U000e0041"):
        assert json.loads(visible_lines(json.dumps(letter, ensure_ascii=False))) == letter


def test_words_of_every_script_stay_as_they_are() -> None:
    """Joiners included."""
    for words in (
        "Grüße",
        "\u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645",
        "👩\u200d✈️",
        "日本語",
        "tab\there",
    ):
        assert visible_lines(words) == words


def test_a_cell_cannot_become_a_formula_or_a_line() -> None:
    """CSV (RFC 4180) read back by the standard library: one row, one cell, no formula's first letter."""
    for start in ("=1+1", "+1+1|cmd", "-1+1", "@SUM(A1)", "\t=1+1", "\r=1+1", " =1+1", "=HYPERLINK(1)\n2"):
        [_, [cell]] = csv.reader(io.StringIO(csv_text(["head"], [[start]])))
        assert cell[0] not in "=+-@\t\r \n"
        assert steering(cell) == []
        assert "\n" not in cell


def test_a_name_cannot_forge_a_row_of_a_table() -> None:
    """One row in, one line out."""
    assert len(table([("a", HOSTILE), ("b", "c")])) == 2


def test_a_drawing_stays_well_formed() -> None:
    """A control character would make it no XML at all (XML 1.0, section 2.2)."""
    drawn = page(100, 100, HOSTILE, [text(HOSTILE, 1, 1)])
    ET.fromstring(drawn)  # noqa: S314 - our own drawing
    assert steering(drawn) == []


def test_data_is_walked_and_keeps_its_kind() -> None:
    """Enumerations, numbers and nesting stay."""
    [found] = visible_in((answer(STARTED_AT, HOSTILE, HOSTILE, Outcome.CAUTION),))
    assert found.outcome is Outcome.CAUTION
    assert found.item == visible(HOSTILE)
    assert found.at == STARTED_AT


@pytest.fixture
def hostile(tmp_path: Path) -> str:
    """A logbook whose people and labels are hostile, with a real check so that it can be reported."""
    parts = load_parts("merlow-reserve")
    with Logbook.open(tmp_path / "book") as logbook:
        with logbook.create_run(
            check=parts.check.name,
            check_text=parts.check_text,
            airplane=parts.check.airplane,
            airplane_text=parts.airplane_text,
            registration=f"QQ-{HOSTILE}",
            pilot=HOSTILE,
            started_at=STARTED_AT,
            made_with=HOSTILE,
        ) as handle:
            handle.append(RunStarted(STARTED_AT))
            item = next(item.name for item in parts.check.items if item.name == "flood lamps")
            handle.append(answer(STARTED_AT + 9, item, HOSTILE, Outcome.SQUAWK))
        file_record(logbook, handle.run, Noted(STARTED_AT + 10, HOSTILE, item, HOSTILE))
        file_record(logbook, f"QQ-{HOSTILE}", Serviced(STARTED_AT + 20, HOSTILE, HOSTILE))
    return str(tmp_path / "book")


@pytest.mark.parametrize(
    "words",
    [
        ["history"],
        ["history", "--json"],
        ["show", "last"],
        ["show", "last", "--json"],
        ["squawk", "list"],
        ["squawk", "show", "last", "flood lamps"],
        ["squawk", "list", "--json"],
        ["trend", "merlow-ml2"],
        ["trend", "merlow-ml2", "--json"],
        ["maintenance", "merlow-ml2"],
        ["report", "last", "--csv"],
        ["report", "last", "--json"],
        ["report", "--fleet", "--csv"],
        ["report", "--fleet", "--json"],
        ["verify", "--all"],
        ["show", HOSTILE],
        ["report", HOSTILE],
    ],
    ids=" ".join,
)
def test_no_command_lets_them_through(
    hostile: str, words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    """Neither to standard output nor in an error."""
    main([*words, "--logbook", hostile])
    shown = capsys.readouterr()
    assert shown.out + shown.err
    assert steering(shown.out.replace("\r\n", "\n") + shown.err) == []
    assert not re.search(r"^forged line", shown.out + shown.err, re.MULTILINE)


@pytest.mark.parametrize("what", ["last", "--fleet"])
def test_no_page_and_no_paper_lets_them_through(hostile: str, what: str, tmp_path: Path) -> None:
    """HTML as text; of the PDF the words that pypdf reads."""
    from pypdf import PdfReader  # noqa: PLC0415 - only this test reads a PDF

    html, pdf = tmp_path / "report.html", tmp_path / "report.pdf"
    assert main(["report", what, "--html", "--to", str(html), "--logbook", hostile]) == 0
    assert steering(html.read_text()) == []
    assert main(["report", what, "--pdf", "--to", str(pdf), "--logbook", hostile]) == 0
    read = "\n".join(each.extract_text() for each in PdfReader(pdf).pages)
    assert "u202e" in read.replace("\n", "")
    assert steering(read) == []


def test_an_export_arrives_byte_by_byte(
    hostile: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is meant for a program is not touched: hashes are taken of it."""
    assert main(["export", "--logbook", hostile]) == 0
    printed = capsys.readouterr().out
    assert main(["export", "--to", str(tmp_path / "all.jsonl"), "--logbook", hostile]) == 0
    assert (tmp_path / "all.jsonl").read_text() == printed
    assert main(["import", str(tmp_path / "all.jsonl"), "--logbook", str(tmp_path / "other")]) == 0
