"""`eyesout demo --drill`: a whole drill through the real ear, with no microphone and no sound card."""

from pathlib import Path

import pytest

from runner.cli import main
from runner.logbook.drilled.drill_book import DrillBook
from runner.logbook.record.run_store import FILE as REAL
from runner.session.drilled.drill_review import review


def test_one_fault_is_caught_and_one_is_missed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Heard word by word in engine noise; two of three who interrupt are answered; the debrief is printed."""
    assert main(["demo", "--drill", "--folder", str(tmp_path)]) == 0
    shown = capsys.readouterr().out
    assert "You caught 1 of 2 faults and invented none." in shown
    assert "caught   communication 2: alive and deaf; by left side tone at" in shown
    assert "missed   gear lamps, nose: bulb out; from" in shown
    assert "2 of 3 interruptions answered" in shown
    assert "A drill is no flight training" in shown
    assert (tmp_path / "exchange.wav").stat().st_size > 1_000_000
    assert not (tmp_path / "logbook" / REAL).exists()
    with DrillBook(tmp_path / "logbook") as book:
        debrief = review(book, "last")
    assert debrief.figures.undone == 0
    assert debrief.figures.early_hands == 0


def test_the_drill_has_no_json_of_its_own(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One line says where it is."""
    assert main(["demo", "--drill", "--json", "--folder", str(tmp_path)]) == 2
    assert "eyesout drill --debrief --json" in capsys.readouterr().err
