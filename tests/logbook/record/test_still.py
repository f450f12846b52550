import shutil
import sqlite3
import stat
import subprocess
from pathlib import Path

import pytest

from runner.core.record.entry import Held
from runner.errors import RecordError
from runner.logbook.proof.audit import audit_folder
from runner.logbook.record.run_store import FILE, Logbook
from runner.logbook.record.still import ChangedMeanwhileError, held_still
from tests.logbook.sample import STARTED_AT, new_run, write_run
from tests.ordinary_user import needs_setpriv, ordinary_python


def _content(folder: Path) -> dict[str, tuple[int, bytes]]:
    return {
        path.name: (path.stat().st_mtime_ns, path.read_bytes()) for path in folder.iterdir() if path.is_file()
    }


def test_verify_changes_and_creates_nothing(tmp_path: Path) -> None:
    """Not one byte, not one file, not one time."""
    write_run(tmp_path)
    before = _content(tmp_path)
    assert audit_folder(tmp_path).is_whole
    assert _content(tmp_path) == before


@pytest.mark.parametrize("name", ["missing", "empty"])
def test_a_missing_or_empty_folder_is_refused_and_nothing_is_created(tmp_path: Path, name: str) -> None:
    """An audit of nothing must not say that all is whole."""
    folder = tmp_path / name
    if name == "empty":
        folder.mkdir()
    with pytest.raises(RecordError, match="no logbook in"):
        audit_folder(folder)
    assert not folder.exists() or list(folder.iterdir()) == []


def test_a_file_without_tables_is_no_whole_logbook(tmp_path: Path) -> None:
    """Neither an empty file nor some other database."""
    (tmp_path / FILE).write_bytes(b"")
    assert not audit_folder(tmp_path).is_whole
    assert (tmp_path / FILE).read_bytes() == b""


def test_a_log_left_by_a_crash_is_read_and_left_where_it_is(tmp_path: Path) -> None:
    """The committed entries are in the log only; verify sees them, and the log stays for the next opening."""
    home, crashed = tmp_path / "home", tmp_path / "crashed"
    with Logbook.open(home) as logbook, new_run(logbook) as handle:
        handle.append(Held(STARTED_AT))
        crashed.mkdir()
        for name in (FILE, f"{FILE}-wal"):
            shutil.copy(home / name, crashed / name)
    log = (crashed / f"{FILE}-wal").read_bytes()
    assert len(log) > 0
    found = audit_folder(crashed)
    assert found.is_whole
    assert [verdict.lines for verdict in found.verdicts] == [2]
    assert (crashed / f"{FILE}-wal").read_bytes() == log


def test_a_state_is_kept_from_the_first_query_on(tmp_path: Path) -> None:
    """What is appended meanwhile is not seen, although it is on disk."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle, held_still(tmp_path) as still:
        before = still.rows("SELECT count(*) FROM line")
        handle.append(Held(STARTED_AT))
        assert still.rows("SELECT count(*) FROM line") == before
        assert logbook.rows("SELECT count(*) FROM line")[0][0] == before[0][0] + 1


def test_a_writer_that_begins_meanwhile_is_noticed(tmp_path: Path) -> None:
    """A file that nobody wrote was read as it lay; now it is to be read again."""
    write_run(tmp_path)
    with pytest.raises(ChangedMeanwhileError), held_still(tmp_path):
        write_run(tmp_path, started_at=STARTED_AT + 60)


@needs_setpriv
@pytest.mark.parametrize("with_log", [False, True])
def test_a_folder_that_cannot_be_written_is_read(tmp_path: Path, *, with_log: bool) -> None:
    """From a folder where this user may make no file, with and without a crash's log."""
    home, folder = tmp_path / "home", tmp_path / "locked"
    folder.mkdir()
    with Logbook.open(home) as logbook, new_run(logbook) as handle:
        handle.append(Held(STARTED_AT))
        if with_log:
            for name in (FILE, f"{FILE}-wal"):
                shutil.copy(home / name, folder / name)
    if not with_log:
        shutil.copy(home / FILE, folder / FILE)
    for path in (folder, *folder.iterdir()):
        path.chmod(stat.S_IRUSR | stat.S_IROTH | stat.S_IRGRP | (0o111 if path.is_dir() else 0))
    before = _content(folder)
    program = (
        "import sqlite3, sys; from pathlib import Path; from runner.logbook.proof.audit import audit_folder; "
        f"found = audit_folder(Path({str(folder)!r})); "
        "print(found.is_whole, [verdict.lines for verdict in found.verdicts])"
    )
    done = subprocess.run(ordinary_python("-c", program), capture_output=True, text=True, check=False)
    assert done.stdout == "True [2]\n", done.stderr
    assert _content(folder) == before


def test_an_unknown_layout_is_said_to_be_one(tmp_path: Path) -> None:
    """A later version's file is not judged by this one."""
    write_run(tmp_path)
    connection = sqlite3.connect(tmp_path / FILE)
    connection.execute("PRAGMA user_version = 77")
    connection.close()
    assert "table layout 77 is unknown here" in audit_folder(tmp_path).faults[0]
