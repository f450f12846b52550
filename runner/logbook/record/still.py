"""A logbook held still: read-only, in one state from the first query to the last, and nothing is created.

A file that nobody writes is read as it lies (SQLite's `immutable`); one with a write-ahead log beside it is
read through that log in one read transaction; a log that cannot be used where it lies (a read-only folder)
is copied first.
"""

import shutil
import sqlite3
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from runner.errors import RecordError
from runner.logbook.record.database import LAYOUTS, as_record_error, unknown_layout
from runner.logbook.record.run_store import FILE

_CHANGES: Final = slice(24, 28)
"""Where an SQLite file counts its changes (its file format, section 1.3)."""

FINGERPRINT: Final = "SELECT count(*), total(length), max(number) FROM chain"


@dataclass(slots=True)
class Still:
    """One state of a logbook. It is a Shelf."""

    folder: Path
    path: Path
    address: str
    """By which SQLite opens the same file in the same way, for another process."""
    connection: sqlite3.Connection

    @property
    def place(self) -> str:
        """The file's path, for messages."""
        return str(self.path)

    def rows(self, query: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        """All rows of a query; RecordError when the file is damaged."""
        with as_record_error(self.path):
            return self.connection.execute(query, parameters).fetchall()

    def fingerprint(self) -> tuple[Any, ...]:
        """What differs after any write of ours: each adds a line to some chain."""
        return self.rows(FINGERPRINT)[0]

    @contextmanager
    def strict_text(self) -> Iterator[None]:
        """Text that is no UTF-8 is refused meanwhile, which is quicker than replacing it."""
        lenient, self.connection.text_factory = self.connection.text_factory, str
        try:
            yield
        finally:
            self.connection.text_factory = lenient


@contextmanager
def held_still(folder: Path) -> Iterator[Still]:
    """The logbook of a folder in its present state; RecordError when there is none, or no way to read it."""
    path = folder / FILE
    if not _log_size(path):
        before = _version(path)
        with _opened(folder, path, f"{path.resolve().as_uri()}?immutable=1") as still:
            yield still
        if _log_size(path) or _version(path) != before:
            raise ChangedMeanwhileError
        return
    with _live(folder, path) as still:
        yield still


class ChangedMeanwhileError(Exception):
    """Someone began to write a file that was read as one that nobody writes: read it again."""


@contextmanager
def _live(folder: Path, path: Path) -> Iterator[Still]:
    with tempfile.TemporaryDirectory(prefix="eyesout-") as scratch:
        address = f"{path.resolve().as_uri()}?mode=ro"
        if not _can_read(address):
            for source in (path, Path(f"{path}-wal")):
                shutil.copy2(source, scratch)
            address = f"{(Path(scratch) / FILE).as_uri()}?mode=ro"
        with _opened(folder, path, address) as still:
            yield still


def open_still(address: str) -> sqlite3.Connection:
    """A connection in a read transaction; text that is no UTF-8 is read with replacements."""
    connection = sqlite3.connect(address, uri=True, timeout=10, isolation_level=None)
    connection.text_factory = lambda raw: raw.decode(errors="replace")
    connection.execute("BEGIN")
    return connection


@contextmanager
def _opened(folder: Path, path: Path, address: str) -> Iterator[Still]:
    with as_record_error(path):
        connection = open_still(address)
    try:
        with as_record_error(path):
            layout = connection.execute("PRAGMA user_version").fetchone()[0]
            connection.execute("SELECT count(*) FROM chain").fetchone()
        if layout not in LAYOUTS:
            raise unknown_layout(path, layout)
        yield Still(folder, path, address, connection)
    finally:
        connection.close()


def _can_read(address: str) -> bool:
    with suppress(sqlite3.OperationalError):
        connection = sqlite3.connect(address, uri=True, timeout=10)
        try:
            connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        finally:
            connection.close()
        return True
    return False


def require_file(path: Path) -> None:
    """RecordError when there is no logbook at this path, or none that may be read."""
    try:
        with path.open("rb") as file:
            file.read(1)
    except OSError as error:
        if path.exists():
            raise RecordError(f"logbook {path}: {error.strerror}; check its permissions") from None
        raise RecordError(f"no logbook in {path.parent}; name its folder with --logbook") from None


def _log_size(path: Path) -> int:
    try:
        return Path(f"{path}-wal").stat().st_size
    except OSError:
        return 0


def _version(path: Path) -> tuple[int, int, bytes]:
    known = path.stat()
    with path.open("rb") as file:
        return known.st_size, known.st_mtime_ns, file.read(100)[_CHANGES]
