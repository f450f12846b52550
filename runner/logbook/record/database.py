"""The SQLite file: how it is opened, its tables, and its errors as one line each.

`chain` and `line` hold what was recorded. `run` and `answer` are summaries derived from it, kept so that
lists and series stay fast; `eyesout verify` compares them with the record.
"""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from runner.errors import RecordError

LAYOUTS: Final = (1, 2)
"""Numbers of the table layouts that are read, in SQLite's user_version. The tables are the same in both; from
2 on each record is linked to those before it (`link.py`), which older programs would not keep up."""

VERSION: Final = LAYOUTS[-1]
"""The layout of a logbook that begins now; an older one becomes this with the next record that it gets."""

APPLICATION: Final = 0x45594F54
"""SQLite's application_id: `EYOT`."""

PRAGMAS: Final = ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "cell_size_check = ON")
"""How each file is opened."""

_TABLES: Final = """
CREATE TABLE setting (name TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE snapshot (sha256 TEXT PRIMARY KEY, text TEXT NOT NULL);
CREATE TABLE chain (
    number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, kind TEXT NOT NULL,
    length INTEGER NOT NULL, digest TEXT NOT NULL
);
CREATE TABLE line (
    chain INTEGER NOT NULL, sequence INTEGER NOT NULL, text TEXT NOT NULL, digest TEXT NOT NULL,
    PRIMARY KEY (chain, sequence)
) WITHOUT ROWID;
CREATE TABLE run (
    number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, started_at REAL NOT NULL, ended_at REAL,
    state TEXT NOT NULL, check_name TEXT NOT NULL, airplane TEXT NOT NULL, registration TEXT NOT NULL,
    pilot TEXT NOT NULL, oat_celsius REAL, cautions INTEGER NOT NULL, squawks INTEGER NOT NULL,
    is_invented INTEGER NOT NULL
);
CREATE INDEX run_by_time ON run (started_at);
CREATE INDEX run_by_registration ON run (registration, started_at);
CREATE INDEX run_by_airplane ON run (airplane, registration);
CREATE INDEX run_unfinished ON run (started_at) WHERE state = 'open';
CREATE TABLE answer (
    run INTEGER NOT NULL, item TEXT NOT NULL, series TEXT NOT NULL, registration TEXT NOT NULL,
    kind TEXT NOT NULL, answer TEXT NOT NULL, value REAL, unit TEXT NOT NULL, outcome TEXT NOT NULL,
    at REAL NOT NULL, response_seconds REAL, is_hasty INTEGER NOT NULL,
    PRIMARY KEY (run, item)
) WITHOUT ROWID;
CREATE INDEX answer_by_series ON answer (registration, series, at) WHERE value IS NOT NULL;
CREATE INDEX answer_squawk ON answer (registration, at) WHERE outcome = 'squawk';
"""

Prepare = Callable[[sqlite3.Connection, Path], None]
"""Makes the tables of a file that is new, and refuses one with others; within a transaction."""


@contextmanager
def as_record_error(path: Path) -> Iterator[None]:
    """Turn SQLite's errors into one line that says what to do."""
    try:
        yield
    except sqlite3.Error as error:
        raise RecordError(f"logbook {path}: {error}; {_advice(error)}") from error


def _advice(error: sqlite3.Error) -> str:
    words = str(error)
    if "locked" in words:
        return "another program is writing it; try again"
    if "full" in words:
        return "free some space; nothing that was acknowledged is lost"
    if "readonly" in words or "unable to open" in words:
        return "check the folder and its permissions"
    return "`eyesout verify` says what can be read; keep the file as it is"


def make_folder(folder: Path) -> None:
    """The folder of a logbook's files, if there is none; RecordError when there can be none."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise RecordError(f"logbook {folder}: {error.strerror}; name another folder") from None


def connect(path: Path, prepare: Prepare) -> sqlite3.Connection:
    """Open the file with write-ahead log and full sync, made when missing; RecordError if unfit."""
    with as_record_error(path):
        connection = sqlite3.connect(path, timeout=10, isolation_level=None, check_same_thread=False)
        try:
            for pragma in PRAGMAS:
                connection.execute(f"PRAGMA {pragma}")
            with transaction(connection):
                prepare(connection, path)
        except BaseException:
            connection.close()
            raise
        return connection


def lay_out(connection: sqlite3.Connection, path: Path) -> None:
    """Make the logbook's tables in a file that is new; RecordError where others are in it."""
    version = connection.execute("PRAGMA user_version").fetchone()[0]
    if version in LAYOUTS:
        return
    is_empty = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0] == 0
    if version != 0 or not is_empty:
        raise unknown_layout(path, version)
    for statement in _TABLES.split(";"):
        connection.execute(statement)
    connection.execute(f"PRAGMA application_id = {APPLICATION}")
    connection.execute(f"PRAGMA user_version = {VERSION}")


def unknown_layout(path: Path, version: object) -> RecordError:
    """The file is another program's, or a later version's."""
    return RecordError(
        f"logbook {path}: table layout {version} is unknown here (known: {VERSION}); "
        "update eyesout, or name another file"
    )


@contextmanager
def transaction(connection: sqlite3.Connection) -> Iterator[None]:
    """All or nothing, on disk when it ends."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
