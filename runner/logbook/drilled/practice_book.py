"""The book of practice: what was recited, answered and drilled, item by item, in the file of the drills."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from runner.drill.due.practice import Practice, PracticeGrade, PracticeKind, Sitting
from runner.errors import RecordError
from runner.logbook.drilled.drill_file import DrillFile
from runner.logbook.record.database import as_record_error, transaction

_COLUMNS: Final = (
    "sitting, begun_at, student, kind, of, level, is_whole, at, subject, situation, is_critical, grade"
)


class PracticeBook(DrillFile):
    """One folder's practice; lines are added and never changed."""

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
