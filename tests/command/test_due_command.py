"""`eyesout due`: what a student is told to practise, and one line for every mistake."""

import json
import time
from pathlib import Path

import pytest

from runner.cli import main
from runner.drill.due.practice import Practice, PracticeGrade, PracticeKind, Sitting
from runner.logbook.drilled.practice_book import PracticeBook
from runner.logbook.record.run_store import FILE as REAL
from tests.checklist.shipped import FOLDER
from tests.drill.due.test_forgetting import FIRST_DAYS, curve

DAY = 86_400.0
RIGHT = PracticeGrade.RIGHT
SYLLABUS = str(FOLDER / "syllabus" / "first-stage.yaml")


def practise(folder: Path) -> None:
    """Ten days ago, recited with one item left out; today, one more."""
    ago, now = time.time() - 10 * DAY, time.time()
    old = Sitting("r1", ago, "Ann", PracticeKind.RECITE, "merlow-reserve")
    new = Sitting("r2", now, "Ann", PracticeKind.RECITE, "merlow-reserve")
    with PracticeBook(folder) as book:
        book.add(
            [
                Practice(old, ago, f"item {number}", "from memory", is_critical=False, grade=RIGHT)
                for number in range(14)
            ]
        )
        book.add([Practice(old, ago, "selector", "from memory", is_critical=True, grade=PracticeGrade.WRONG)])
        book.add([Practice(new, now, "fresh", "from memory", is_critical=True, grade=PracticeGrade.RIGHT)])


def test_what_is_due_is_listed_with_critical_things_first(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each with a range of what is still there; what is fresh comes later."""
    practise(tmp_path)
    assert main(["due", "--by", "Ann", "--logbook", str(tmp_path)]) == 0
    shown = capsys.readouterr().out
    assert shown.startswith("DRILL  what to practise, Ann: 90 % should come when it is asked for")
    assert "Due now: 15 of 16 things, critical ones first" in shown
    rows = [line for line in shown.splitlines() if "recite merlow-reserve" in line]
    assert len(rows) == 12
    assert "selector" in rows[0]
    assert "critical" in rows[0]
    assert "wrong, 10 days ago" in rows[0]
    hard, easy = (100 * curve(10, FIRST_DAYS[each]) for each in ("hard", "easy"))
    assert f"{hard:.0f} to {easy:.0f} %" in rows[1], "by the published curve after ten days"
    assert "and 3 more; --all lists them" in shown
    assert "The next after these is due on " in shown
    assert "A drill is no flight training" in shown
    assert not (tmp_path / REAL).exists()
    assert main(["due", "--by", "Ann", "--all", "--logbook", str(tmp_path)]) == 0
    assert len([line for line in capsys.readouterr().out.splitlines() if "recite merlow" in line]) == 16


def test_a_syllabus_says_what_is_current(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """14 of 15 right ten days ago is current; no quiz and no drill were done."""
    practise(tmp_path)
    words = ["due", "--by", "Ann", "--syllabus", SYLLABUS, "--logbook", str(tmp_path)]
    assert main(words) == 0
    shown = capsys.readouterr().out
    assert "Standard: Reserve bus, first stage, by an invented instructor" in shown
    assert "recite merlow-reserve, 90 % right, within 14 days" in shown
    assert shown.count("not yet") == 2
    assert main([*words, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [each["is_current"] for each in told["standard"]] == [False, True, False]
    assert told["is_drill"] is True
    low, high = told["things"][0]["still_there"]
    assert 0 < low <= high < 1


def test_who_has_not_practised_is_told_how_to_begin(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nobody's practice is another's."""
    practise(tmp_path)
    assert main(["due", "--by", "Bob", "--logbook", str(tmp_path)]) == 0
    assert "Nothing was practised yet; begin with `eyesout recite CHECK`" in capsys.readouterr().out


def test_a_mistake_in_a_syllabus_gets_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With its place; so does a file that is not there."""
    path = tmp_path / "mine.yaml"
    path.write_text("syllabus: Mine\nstandard: []\n", encoding="utf-8")
    for name, line in ((path, "mine.yaml:2:11: the list is empty"), (tmp_path / "no.yaml", "no such file")):
        assert main(["due", "--syllabus", str(name), "--logbook", str(tmp_path)]) == 2
        told = capsys.readouterr().err.strip()
        assert line in told
        assert "\n" not in told
