"""The reports as comma-separated values, read back with Python's own reader (RFC 4180)."""

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest

from runner.report.draw.csv_text import csv_text
from runner.report.fleet.airplane_csv import fleet_csv
from runner.report.run.run_csv import run_csv
from tests.report.run_sample import PILOT, Reports, reports


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Reports:
    """A busy run and its airplane."""
    return reports(tmp_path_factory.mktemp("logbook"), past=1)


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_a_row_an_answer_with_the_corrected_and_the_missing_ones(made: Reports) -> None:
    """24 items, one answered twice."""
    rows = _rows(run_csv(made.run))
    assert len(rows) == len(made.run.items) + 1
    assert {row["pilot"] for row in rows} == {PILOT}
    lamps = [row for row in rows if row["item"] == "gear lamps"]
    assert [(row["standing"], row["answer"], row["corrected_utc"]) for row in lamps] == [
        ("corrected", "three green", "2025-11-25T09:22:09.000Z"),
        ("answered", "nose out", ""),
    ]
    states = {row["item"]: row["standing"] for row in rows}
    assert (states["old second radio"], states["right attitude"]) == ("did not apply", "unable")


def test_figures_are_numbers_and_bands_are_beside_them(made: Reports) -> None:
    """Without units in the cells."""
    named = {row["item"]: row for row in _rows(run_csv(made.run))}
    volts, compass = named["volts on reserve"], named["left compass"]
    assert [volts[key] for key in ("value", "low", "high", "outcome")] == ["22.8", "24.8", "26.3", "caution"]
    assert [compass[key] for key in ("value", "advise_s", "limit_s", "answer")] == [
        "121",
        "60",
        "120",
        "flag stuck",
    ]


def test_an_item_whose_only_answer_was_taken_back_is_not_answered(made: Reports) -> None:
    """One row for what was said, one for what is missing."""
    lamps = next(item for item in made.run.items if item.item.name == "gear lamps")
    bare = replace(made.run, items=(replace(lamps, given=lamps.given[:1]),))
    assert [row["standing"] for row in _rows(run_csv(bare))] == ["corrected", "not answered"]


def test_a_row_a_squawk_of_an_airplane(made: Reports) -> None:
    """With what shares its feeds, and what people recorded."""
    rows = [row for row in _rows(fleet_csv(made.airplane)) if row["item"] == "gear lamps"]
    assert rows[0]["records"] == "B. Invented: noted: bulb is on order"
    assert rows[0]["shared_feeds"].startswith("reserve bus also feeds flood lamps")


def test_a_text_that_a_spreadsheet_would_run_is_defused() -> None:
    """A number with its sign stays one; lines end as the RFC asks."""
    text = csv_text(("a", "b"), [("=1+1", "-3.5"), ("@x", 2.5), ("a,b", None), ("-x", True)])
    assert text == "a,b\r\n'=1+1,-3.5\r\n'@x,2.5\r\n\"a,b\",\r\n'-x,yes\r\n"


def test_no_row_is_shorter_than_the_heads(made: Reports, tmp_path: Path) -> None:
    """Nor longer: every cell is under its name."""
    for text in (run_csv(made.run), fleet_csv(made.airplane)):
        (tmp_path / "report.csv").write_text(text, encoding="utf-8", newline="")
        heads, *rows = csv.reader(io.StringIO(text, newline=""))
        assert {len(row) for row in rows} == {len(heads)}
