"""The book of drills: what goes in comes out, and the real records' file never changes by it."""

import hashlib
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from runner.core.record.entry import CautionsTaken, RunStarted
from runner.drill.story.drill_story import invent_story
from runner.errors import RecordError
from runner.logbook.drilled.drill_book import DrillBook
from runner.logbook.drilled.drill_file import FILE
from runner.logbook.drilled.drill_header import DrillHeader, story_from_json, story_to_json
from runner.logbook.drilled.practice_book import PracticeBook
from runner.logbook.record.run_store import FILE as REAL
from runner.logbook.record.run_store import Logbook
from tests.drill.sample import ON, drilled
from tests.drill.test_drill_event import EVERY

HEADER = DrillHeader("d1", 5.0, "Ann", "merlow-reserve", "merlow-ml2", "QQ-ML2", "check", "airplane", 1)


def bytes_of(folder: Path) -> str:
    """The real file, with what waits beside it."""
    files = sorted(path for path in folder.iterdir() if path.name.startswith(REAL))
    return hashlib.sha256(b"".join(path.read_bytes() for path in files)).hexdigest()


def real_logbook(folder: Path) -> None:
    """A logbook with a run in it."""
    with (
        Logbook.open(folder) as logbook,
        logbook.create_run(
            check="merlow-reserve",
            check_text="c",
            airplane="merlow-ml2",
            airplane_text="a",
            registration="QQ-ML2",
            pilot="Ann",
            started_at=1.0,
        ) as run,
    ):
        run.append(RunStarted(1.0))


def test_a_drill_comes_back_as_it_was(tmp_path: Path) -> None:
    """Header, entries, events and figures."""
    with DrillBook(tmp_path) as book:
        handle = book.create(HEADER)
        handle.append(RunStarted(5.0))
        for event in EVERY:
            handle.happen(event)
        handle.append(CautionsTaken(6.0))
        book.close_drill("d1", 12.0, {"caught": 1, "hidden": 2})
        record = book.read("last")
        (summary,) = book.drills("Ann")
    assert (record.header, record.events) == (HEADER, EVERY)
    assert record.entries == (RunStarted(5.0), CautionsTaken(6.0))
    assert (summary.figures, summary.ended_at, record.ended_at) == ({"caught": 1, "hidden": 2}, 12.0, 10.0)


def test_stories_come_back_as_they_were() -> None:
    """All that a level can hold."""
    airplane, check = drilled(0)
    for level in (1, 2, 3, 4):
        story = invent_story(check, airplane, ON, level=level, seed=level)
        assert story_from_json(story_to_json(story), airplane) == story
    with pytest.raises(RecordError, match="not the story of a drill"):
        story_from_json({"level": 1}, airplane)


def test_a_thousand_drills_leave_the_real_file_as_it_was(tmp_path: Path) -> None:
    """To the byte."""
    real_logbook(tmp_path)
    before = bytes_of(tmp_path)
    with DrillBook(tmp_path) as book:
        book._connection.execute("PRAGMA synchronous = OFF")
        for number in range(1000):
            handle = book.create(replace(HEADER, drill=f"d{number}"))
            handle.append(RunStarted(5.0))
            handle.happen(EVERY[number % len(EVERY)])
            book.close_drill(handle.run, 9.0, {})
        assert len(book.drills()) == 1000
    assert bytes_of(tmp_path) == before


@given(st.lists(st.sampled_from(EVERY), max_size=6), st.text(max_size=20))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_drill_touches_runs_squawks_or_trends(tmp_path: Path, events: list[object], name: str) -> None:
    """Whatever happens in it and whoever drills, even under the name and tail of a real run."""
    if not (tmp_path / REAL).exists():
        real_logbook(tmp_path)
    before = bytes_of(tmp_path)
    with DrillBook(tmp_path) as book:
        known = len(book.drills())
        handle = book.create(replace(HEADER, drill=f"d{known}", student=name))
        handle.append(RunStarted(5.0))
        for event in events:
            handle.happen(event)  # type: ignore[arg-type] # drawn from the events
        book.close_drill(handle.run, 9.0, {})
    assert bytes_of(tmp_path) == before


def test_books_that_cannot_be_read_get_one_line(tmp_path: Path) -> None:
    """A drill that there is not, a line and figures that are damaged, a later layout."""
    with DrillBook(tmp_path) as book, pytest.raises(RecordError, match=r'no drill "last" in .*--list'):
        book.read("last")
    with DrillBook(tmp_path) as book:
        handle = book.create(HEADER)
        handle.append(RunStarted(5.0))
        book._connection.execute("UPDATE moment SET text = substr(text, 2)")
        with pytest.raises(RecordError, match=r"^drill d1: "):
            book.read("d1")
        book._connection.execute("UPDATE drill SET figures = '{'")
        with pytest.raises(RecordError, match=r"^drill d1: its figures: "):
            book.drills()
    connection = sqlite3.connect(tmp_path / FILE)
    connection.execute("PRAGMA user_version = 9")
    connection.close()
    with pytest.raises(RecordError, match="table layout 9 is unknown here; update eyesout"):
        DrillBook(tmp_path)


@pytest.mark.parametrize("book", [DrillBook, PracticeBook])
def test_a_folder_that_cannot_be_made_is_refused_as_the_logbooks_is(
    tmp_path: Path, book: type[DrillBook | PracticeBook]
) -> None:
    """In one line, with the way out."""
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(RecordError, match=r"^logbook .*file.x: Not a directory; name another folder$"):
        book(tmp_path / "file" / "x")


def test_the_last_drill_is_the_one_that_began_last(tmp_path: Path) -> None:
    """Whichever was written last; of two that began at once, the second."""
    with DrillBook(tmp_path) as book:
        for name, started_at in (("d1", 5.0), ("d2", 7.0), ("d3", 7.0), ("d4", 6.0)):
            book.create(replace(HEADER, drill=name, started_at=started_at))
        assert book.read("last").header.drill == "d3"
        assert [each.drill for each in book.drills()] == ["d3", "d2", "d4", "d1"]
