"""The book of practice: what goes in comes out, in the drills' file."""

import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from runner.drill.due.practice import Practice, PracticeGrade, PracticeKind, Sitting
from runner.errors import RecordError
from runner.logbook.drilled.drill_book import DrillBook
from runner.logbook.drilled.drill_file import FILE
from runner.logbook.drilled.practice_book import PracticeBook
from runner.logbook.record.run_store import FILE as REAL
from tests.logbook.drilled.test_drill_book import bytes_of, real_logbook

SITTING = Sitting("d1", 4.5, "Ann", PracticeKind.DRILL, "merlow-reserve", level=2)
LINE = Practice(SITTING, 5.0, "flood lamps", "left: bulb out", is_critical=True, grade=PracticeGrade.SLOW)


def test_practice_comes_back_by_student_and_time(tmp_path: Path) -> None:
    """Every field, the oldest first; the drills' own tables still open, and no real file is made."""
    earlier, other = replace(LINE, at=4.0), replace(LINE, sitting=replace(SITTING, student="Bob"))
    with PracticeBook(tmp_path) as book:
        book.add([LINE, earlier])
    with PracticeBook(tmp_path) as book:
        book.add([other])
        assert book.practised("Ann") == (earlier, LINE)
        assert book.practised("Bob") == (other,)
    with DrillBook(tmp_path) as drills:
        assert drills.drills() == ()
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(REAL)] == []


def test_what_a_later_version_wrote_is_told_in_one_line(tmp_path: Path) -> None:
    """A grade that is unknown here is no grade of ours."""
    with PracticeBook(tmp_path) as book:
        book.add([LINE])
        with sqlite3.connect(tmp_path / FILE) as connection:
            connection.execute("UPDATE practice SET grade = 'perfect'")
        connection.close()
        with pytest.raises(RecordError, match="practice of flood lamps: 'perfect' is not a valid"):
            book.practised("Ann")


def test_practice_leaves_the_real_records_bytes_as_they_were(tmp_path: Path) -> None:
    """A thousand lines of it beside a logbook with a run."""
    real_logbook(tmp_path)
    before = bytes_of(tmp_path)
    with PracticeBook(tmp_path) as book:
        for number in range(10):
            book.add([replace(LINE, at=float(number), subject=f"item {each}") for each in range(100)])
        assert len(book.practised("Ann")) == 1000
    assert bytes_of(tmp_path) == before
