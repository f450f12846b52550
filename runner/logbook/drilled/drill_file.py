"""The file of drills and practice: one of its own beside the logbook's, opened and closed by its books."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from runner.errors import RecordError
from runner.logbook.record.database import connect, make_folder

FILE: Final = "drills.sqlite"
"""Beside the logbook's own file, in the same folder."""
LAYOUT: Final = 1
_TABLES: Final = """
CREATE TABLE drill (
    number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, started_at REAL NOT NULL, ended_at REAL,
    student TEXT NOT NULL, check_name TEXT NOT NULL, registration TEXT NOT NULL, level INTEGER NOT NULL,
    header TEXT NOT NULL, figures TEXT NOT NULL
);
CREATE TABLE moment (
    drill INTEGER NOT NULL, sequence INTEGER NOT NULL, text TEXT NOT NULL, PRIMARY KEY (drill, sequence)
) WITHOUT ROWID;
CREATE INDEX drill_by_student ON drill (student, started_at);
"""
_PRACTICE: Final = """
CREATE TABLE IF NOT EXISTS practice (
    number INTEGER PRIMARY KEY, sitting TEXT NOT NULL, begun_at REAL NOT NULL, student TEXT NOT NULL,
    kind TEXT NOT NULL, of TEXT NOT NULL, level INTEGER NOT NULL, is_whole INTEGER NOT NULL,
    at REAL NOT NULL, subject TEXT NOT NULL, situation TEXT NOT NULL,
    is_critical INTEGER NOT NULL, grade TEXT NOT NULL
)
"""


class DrillFile:
    """One folder's drills and practice on disk, made when there are none; RecordError when that cannot be."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / FILE
        make_folder(folder)
        self._connection = connect(self.path, _lay_out)

    def close(self) -> None:
        """Close the file."""
        self._connection.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def _lay_out(connection: sqlite3.Connection, path: Path) -> None:
    layout = connection.execute("PRAGMA user_version").fetchone()[0]
    if layout not in (0, LAYOUT):
        raise RecordError(f"{path}: table layout {layout} is unknown here; update eyesout")
    if layout == 0:
        for statement in _TABLES.split(";"):
            connection.execute(statement)
        connection.execute(f"PRAGMA user_version = {LAYOUT}")
    connection.execute(_PRACTICE)
