"""The write-ahead log as a stop left it: what SQLite will not take over from it is kept aside and reported.

SQLite drops the log's frames from the first bad one on, without a word. A power cut in the middle of a write
leaves such a frame; so does a damaged disk.
"""

import sqlite3
from collections.abc import Sequence
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Self

from runner.logbook.proof.raw_line import find_lines
from runner.logbook.record.chain import ChainLine
from runner.logbook.record.record_shelf import Shelf


@dataclass(frozen=True, slots=True)
class WriteAhead:
    """The log beside a database, read before SQLite opens it."""

    path: Path
    content: bytes

    @classmethod
    def read(cls, database: Path) -> Self:
        """The log of a database; empty when there is none."""
        path = Path(f"{database}-wal")
        try:
            return cls(path, path.read_bytes())
        except OSError:
            return cls(path, b"")

    def lost(self, shelf: Shelf) -> tuple[ChainLine, ...]:
        """The lines in it that the shelf does not have."""
        return tuple(line for line in find_lines(self.content) if not _has(shelf, line))

    def set_aside(self, shelf: Shelf) -> tuple[str, ...]:
        """Keep beside the logbook what SQLite did not take over, with a notice; nothing when it took all.

        Call it while no other process can be in the middle of a write.
        """
        lost = self.lost(shelf)
        if not lost:
            return ()
        kept = self.path.with_name(f"set-aside-{lost[0].digest[:12]}.wal")
        if not kept.exists():
            kept.write_bytes(self.content)
        return (f"{_found(lost)}; it is no part of the record, kept in {kept}",)

    def lost_for_good(self, lost: Sequence[ChainLine]) -> tuple[str, ...]:
        """A notice of lines that no program is about to finish writing: those are there when it lets go."""
        if not lost:
            return ()
        address = f"{self.path.with_name(self.path.name.removesuffix('-wal')).resolve().as_uri()}?mode=rw"
        with suppress(sqlite3.Error):
            connection = sqlite3.connect(address, uri=True, timeout=10, isolation_level=None)
            with closing(connection):
                connection.execute("BEGIN IMMEDIATE")
                now = _Locked(self.path, connection)
                lost = [line for line in lost if not _has(now, line)]
                connection.execute("ROLLBACK")
        return (f"{_found(lost)}; it is no part of the record, and was left where it is",) if lost else ()


@dataclass(frozen=True, slots=True)
class _Locked:
    """The database while nobody else can write it, as a Shelf."""

    path: Path
    connection: sqlite3.Connection

    @property
    def place(self) -> str:
        return str(self.path)

    def rows(self, query: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        return self.connection.execute(query, parameters).fetchall()


def _found(lost: Sequence[ChainLine]) -> str:
    first = f"{lost[0].chain} line {lost[0].sequence}"
    what = f"{first} and {len(lost) - 1} more" if len(lost) > 1 else first
    return f"an unfinished or damaged write was found ({what})"


def _has(shelf: Shelf, line: ChainLine) -> bool:
    rows = shelf.rows(
        "SELECT l.digest FROM line l JOIN chain c ON c.number = l.chain WHERE c.id = ? AND l.sequence = ?",
        (line.chain, line.sequence),
    )
    return bool(rows) and rows[0][0] == line.digest
