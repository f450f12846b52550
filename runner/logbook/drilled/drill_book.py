"""The book of drills: a file of its own beside the logbook's, so that no drill can touch a real record."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self

from runner.core.record.codec import from_json, to_json
from runner.core.record.entry import Entry
from runner.drill.drill_event import DrillEvent, event_from_json, event_to_json
from runner.errors import RecordError
from runner.logbook.drilled.drill_header import DrillHeader, header_from, header_text
from runner.logbook.record.database import as_record_error, transaction

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
_COLUMNS: Final = "id, started_at, student, check_name, registration, level, header, figures"


@dataclass(frozen=True, slots=True)
class DrillSummary:
    """One drill as a list shows it."""

    drill: str
    started_at: float
    ended_at: float | None
    student: str
    check: str
    registration: str
    level: int
    figures: Mapping[str, Any]
    """What its debrief came to; empty before that."""


@dataclass(frozen=True, slots=True)
class DrillRecord:
    """A whole drill, read back."""

    header: DrillHeader
    entries: tuple[Entry, ...]
    events: tuple[DrillEvent, ...]
    ended_at: float
    """The time of the last thing on record, or the beginning."""


class DrillBook:
    """One folder's drills."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / FILE
        folder.mkdir(parents=True, exist_ok=True)
        with as_record_error(self.path):
            self._connection = sqlite3.connect(
                self.path, timeout=10, isolation_level=None, check_same_thread=False
            )
            self._connection.execute("PRAGMA journal_mode = WAL")
            self._prepare()

    def _prepare(self) -> None:
        with transaction(self._connection):
            layout = self._connection.execute("PRAGMA user_version").fetchone()[0]
            if layout == LAYOUT:
                return
            if layout != 0:
                raise RecordError(f"{self.path}: table layout {layout} is unknown here; update eyesout")
            for statement in _TABLES.split(";"):
                self._connection.execute(statement)
            self._connection.execute(f"PRAGMA user_version = {LAYOUT}")

    def create(self, header: DrillHeader) -> DrillHandle:
        """Begin a drill."""
        with as_record_error(self.path), transaction(self._connection):
            number = self._connection.execute(
                f"INSERT INTO drill ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, '{{}}')",  # noqa: S608 - a constant
                (
                    header.drill,
                    header.started_at,
                    header.student,
                    header.check,
                    header.registration,
                    header.level,
                    header_text(header),
                ),
            ).lastrowid
        return DrillHandle(self, header, number or 0)

    def add(self, number: int, sequence: int, text: str) -> None:
        """One more line of a drill's record."""
        with as_record_error(self.path), transaction(self._connection):
            self._connection.execute("INSERT INTO moment VALUES (?, ?, ?)", (number, sequence, text))

    def close_drill(self, drill: str, ended_at: float, figures: Mapping[str, Any]) -> None:
        """It is over, and this is what its debrief came to."""
        with as_record_error(self.path), transaction(self._connection):
            self._connection.execute(
                "UPDATE drill SET ended_at = ?, figures = ? WHERE id = ?",
                (ended_at, json.dumps(figures), drill),
            )

    def drills(self, student: str | None = None) -> tuple[DrillSummary, ...]:
        """Every drill, the newest first; with a name, that student's."""
        query = (
            "SELECT id, started_at, ended_at, student, check_name, registration, level, figures FROM drill"
        )
        where, values = (" WHERE student = ?", (student,)) if student is not None else ("", ())
        with as_record_error(self.path):
            rows = self._connection.execute(f"{query}{where} ORDER BY started_at DESC, number DESC", values)
            return tuple(_summary(row) for row in rows.fetchall())

    def read(self, drill: str) -> DrillRecord:
        """A whole drill; `last` is the newest. RecordError when there is none of that id."""
        known = [each.drill for each in self.drills()]
        found = known[0] if drill == "last" and known else drill
        with as_record_error(self.path):
            rows = self._connection.execute(
                "SELECT number, header FROM drill WHERE id = ?", (found,)
            ).fetchall()
            if not rows:
                raise RecordError(f'no drill "{drill}" in {self.path}; `eyesout drill --list` lists them')
            number, text = rows[0]
            lines = self._connection.execute(
                "SELECT text FROM moment WHERE drill = ? ORDER BY sequence", (number,)
            ).fetchall()
        return _record(header_from(text), [json.loads(line) for (line,) in lines])

    def close(self) -> None:
        """Close the file."""
        self._connection.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


class DrillHandle:
    """A drill that is open for writing."""

    def __init__(self, book: DrillBook, header: DrillHeader, number: int) -> None:
        self.run = header.drill
        self.header = header
        self._book, self._number = book, number
        self._sequence = 0

    @property
    def started_at(self) -> float:
        """When the drill began, seconds since the epoch."""
        return self.header.started_at

    def append(self, entry: Entry) -> None:
        """One entry of the check that is run: on disk when this returns."""
        self._add({"entry": to_json(entry)})

    def happen(self, event: DrillEvent) -> None:
        """One event of the drill."""
        self._add({"event": event_to_json(event)})

    def _add(self, line: Mapping[str, Any]) -> None:
        self._sequence += 1
        self._book.add(self._number, self._sequence, json.dumps(line, ensure_ascii=False))


def _summary(row: tuple[Any, ...]) -> DrillSummary:
    return DrillSummary(row[0], row[1], row[2], row[3], row[4], row[5], row[6], json.loads(row[7]))


def _record(header: DrillHeader, lines: list[dict[str, Any]]) -> DrillRecord:
    try:
        entries = tuple(from_json(line["entry"]) for line in lines if "entry" in line)
        events = tuple(event_from_json(line["event"]) for line in lines if "event" in line)
    except ValueError as error:
        raise RecordError(f"drill {header.drill}: {error}") from None
    ended_at = max((each.at for each in (*entries, *events)), default=header.started_at)
    return DrillRecord(header, entries, events, ended_at)
