import sqlite3
from pathlib import Path

import pytest

from runner.core.record.entry import RunStarted
from runner.errors import RecordError
from runner.logbook.record.run_store import FILE, Logbook
from tests.logbook.sample import AIRPLANE_TEXT, CHECK_TEXT, STARTED_AT, new_run, whole_run, write_run


def test_what_was_appended_is_read_back_unchanged(tmp_path: Path) -> None:
    """Entries come back equal and in order, from a logbook opened anew."""
    run = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        assert logbook.entries(run) == tuple(whole_run())


def test_an_entry_is_on_disk_when_append_returns(tmp_path: Path) -> None:
    """Another connection sees each entry before the next one is made."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle, Logbook.open(tmp_path) as other:
        for count, entry in enumerate(whole_run(), start=1):
            handle.append(entry)
            assert len(other.entries(handle.run)) == count


def test_the_file_is_written_ahead_and_synced_in_full(tmp_path: Path) -> None:
    """SQLite itself says so: journal_mode wal, synchronous 2 (FULL)."""
    with Logbook.open(tmp_path) as logbook:
        assert logbook.rows("PRAGMA journal_mode") == [("wal",)]
        assert logbook.rows("PRAGMA synchronous") == [(2,)]


def test_a_run_keeps_the_exact_texts_of_its_files(tmp_path: Path) -> None:
    """Replay never depends on files that were edited since."""
    run = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        snapshots = logbook.snapshots(run)
    assert (snapshots.check, snapshots.airplane) == (CHECK_TEXT, AIRPLANE_TEXT)


def test_equal_texts_are_kept_once(tmp_path: Path) -> None:
    """A hundred runs of one check hold one copy of its file."""
    write_run(tmp_path)
    write_run(tmp_path, started_at=STARTED_AT + 86_400)
    with Logbook.open(tmp_path) as logbook:
        assert logbook.rows("SELECT count(*) FROM snapshot") == [(2,)]


def test_a_run_id_reads_as_its_date_and_airplane(tmp_path: Path) -> None:
    """`2025-11-25-0920-lark-....`: the UTC minute, the airplane, a suffix."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        assert handle.run.startswith("2025-11-25-0920-lark-")
        assert logbook.header(handle.run) == handle.header


def test_an_interrupted_run_goes_on_where_it_stopped(tmp_path: Path) -> None:
    """Entries appended after a resume follow those before it in one whole chain."""
    entries = list(whole_run())
    with Logbook.open(tmp_path) as logbook:
        with new_run(logbook) as handle:
            for entry in entries[:5]:
                handle.append(entry)
        with logbook.resume(handle.run) as again:
            for entry in entries[5:]:
                again.append(entry)
        assert logbook.entries(handle.run) == tuple(entries)


def test_a_run_that_has_ended_takes_nothing_more(tmp_path: Path) -> None:
    """Neither the handle that ended it nor a new one."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        for entry in whole_run():
            handle.append(entry)
        with pytest.raises(RecordError, match=f"run {handle.run} has ended; nothing can be added"):
            handle.append(RunStarted(STARTED_AT))
        handle.close()
        with pytest.raises(RecordError, match=f"run {handle.run} has ended; start a new one"):
            logbook.resume(handle.run)


def test_a_damaged_run_is_not_resumed(tmp_path: Path) -> None:
    """Going on would bury the break; the message says what to do."""
    with Logbook.open(tmp_path) as logbook:
        with new_run(logbook) as handle:
            for entry in list(whole_run())[:4]:
                handle.append(entry)
        with logbook.writing() as connection:
            connection.execute("UPDATE line SET text = replace(text, 'reserve', 'normal') WHERE sequence = 3")
        with pytest.raises(RecordError, match=r"line 3 .*changed after it was written; `eyesout verify`"):
            logbook.resume(handle.run)


def test_an_unknown_run_is_refused_by_name(tmp_path: Path) -> None:
    """The message names it."""
    with Logbook.open(tmp_path) as logbook, pytest.raises(RecordError, match='no run "nope"'):
        logbook.entries("nope")


def test_a_file_that_is_no_database_is_refused_and_left_alone(tmp_path: Path) -> None:
    """One line, and not a byte of the file changes."""
    content = b"these are not the pages of a database " * 200
    (tmp_path / FILE).write_bytes(content)
    with pytest.raises(RecordError, match="not a database; `eyesout verify`"):
        Logbook.open(tmp_path)
    assert (tmp_path / FILE).read_bytes() == content


def test_a_database_of_another_program_is_refused(tmp_path: Path) -> None:
    """Tables that are not ours are not added to."""
    with sqlite3.connect(tmp_path / FILE) as connection:
        connection.execute("CREATE TABLE other (value)")
    connection.close()
    with pytest.raises(RecordError, match="table layout 0 is unknown here"):
        Logbook.open(tmp_path)


def test_a_newer_layout_is_refused(tmp_path: Path) -> None:
    """A newer eyesout's file is not touched by an older one."""
    write_run(tmp_path)
    with sqlite3.connect(tmp_path / FILE) as connection:
        connection.execute("PRAGMA user_version = 99")
    connection.close()
    with pytest.raises(RecordError, match="table layout 99 is unknown here"):
        Logbook.open(tmp_path)


def test_a_folder_that_cannot_be_made_is_one_line(tmp_path: Path) -> None:
    """A file stands where the folder should be."""
    (tmp_path / "file").write_text("")
    with pytest.raises(RecordError, match="name another folder"):
        Logbook.open(tmp_path / "file")
