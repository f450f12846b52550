"""The book of practice: what was recited, answered and drilled, item by item, in the file of the drills."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self

from runner.drill.due.practice import Practice, PracticeGrade, PracticeKind, Sitting
from runner.errors import RecordError
from runner.logbook.drilled.drill_book import FILE, DrillBook
from runner.logbook.record.database import as_record_error, transaction

_TABLE: Final = """
CREATE TABLE IF NOT EXISTS practice (
    number INTEGER PRIMARY KEY, sitting TEXT NOT NULL, begun_at REAL NOT NULL, student TEXT NOT NULL,
    kind TEXT NOT NULL, of TEXT NOT NULL, level INTEGER NOT NULL, is_whole INTEGER NOT NULL,
    at REAL NOT NULL, subject TEXT NOT NULL, situation TEXT NOT NULL,
    is_critical INTEGER NOT NULL, grade TEXT NOT NULL
)
"""
_COLUMNS: Final = (
    "sitting, begun_at, student, kind, of, level, is_whole, at, subject, situation, is_critical, grade"
)


class PracticeBook:
    """One folder's practice; lines are added and never changed."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / FILE
        DrillBook(folder).close()
        with as_record_error(self.path):
            self._connection = sqlite3.connect(self.path, timeout=10, isolation_level=None)
            self._connection.execute(_TABLE)

    def add(self, lines: Iterable[Practice]) -> None:
        """All of them or none."""
        rows = [
            (
                each.sitting.name,
                each.sitting.begun_at,
                each.sitting.student,
                each.sitting.kind.value,
                each.sitting.of,
                each.sitting.level,
                int(each.sitting.is_whole),
                each.at,
                each.subject,
                each.situation,
                int(each.is_critical),
                each.grade.value,
            )
            for each in lines
        ]
        with as_record_error(self.path), transaction(self._connection):
            self._connection.executemany(
                f"INSERT INTO practice ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",  # noqa: S608 - a constant
                rows,
            )

    def practised(self, student: str) -> tuple[Practice, ...]:
        """All that a student practised, the oldest first; those without a name are one student."""
        with as_record_error(self.path):
            rows = self._connection.execute(
                f"SELECT {_COLUMNS} FROM practice WHERE student = ? ORDER BY at, number",  # noqa: S608 - as above
                (student,),
            ).fetchall()
        return tuple(map(self._line, rows))

    def _line(self, row: tuple[Any, ...]) -> Practice:
        name, begun_at, student, kind, of, level, is_whole, at, subject, situation, is_critical, grade = row
        try:
            sitting = Sitting(name, begun_at, student, PracticeKind(kind), of, level, bool(is_whole))
            return Practice(sitting, at, subject, situation, bool(is_critical), PracticeGrade(grade))
        except ValueError as error:
            raise RecordError(f"{self.path}: practice of {subject}: {error}; update eyesout") from None

    def close(self) -> None:
        """Close the file."""
        self._connection.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
