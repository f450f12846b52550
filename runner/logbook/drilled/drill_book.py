"""The book of drills: in a file of its own, so that no drill can touch a real record."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from runner.core.record.codec import from_json, to_json
from runner.core.record.entry import Entry
from runner.drill.drill_event import DrillEvent, Penned, event_from_json, event_to_json
from runner.errors import RecordError
from runner.logbook.drilled.drill_file import DrillFile
from runner.logbook.drilled.drill_header import DrillHeader, header_from, header_text
from runner.logbook.record.database import as_record_error, transaction

_COLUMNS: Final = "id, started_at, student, check_name, registration, level, header, figures"
_NEWEST: Final = "ORDER BY started_at DESC, number DESC"


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
    """The time of the last thing that happened, or the beginning; what was written about it comes later."""


class DrillBook(DrillFile):
    """One folder's drills."""

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
            rows = self._connection.execute(f"{query}{where} {_NEWEST}", values)
            return tuple(_summary(row) for row in rows.fetchall())

    def read(self, drill: str) -> DrillRecord:
        """A whole drill; `last` is the newest. RecordError when there is none of that id."""
        where, values = (_NEWEST + " LIMIT 1", ()) if drill == "last" else ("WHERE id = ?", (drill,))
        with as_record_error(self.path):
            rows = self._connection.execute(f"SELECT number, header FROM drill {where}", values).fetchall()  # noqa: S608 - constants
            if not rows:
                raise RecordError(f'no drill "{drill}" in {self.path}; `eyesout drill --list` lists them')
            number, text = rows[0]
            lines = self._connection.execute(
                "SELECT text FROM moment WHERE drill = ? ORDER BY sequence", (number,)
            ).fetchall()
        return _record(header_from(text), [line for (line,) in lines])


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
    try:
        figures = json.loads(row[7])
    except ValueError as error:
        raise RecordError(f"drill {row[0]}: its figures: {error}") from None
    return DrillSummary(row[0], row[1], row[2], row[3], row[4], row[5], row[6], figures)


def _record(header: DrillHeader, texts: Iterable[str]) -> DrillRecord:
    try:
        lines = [json.loads(text) for text in texts]
        entries = tuple(from_json(line["entry"]) for line in lines if "entry" in line)
        events = tuple(event_from_json(line["event"]) for line in lines if "event" in line)
    except ValueError as error:
        raise RecordError(f"drill {header.drill}: {error}") from None
    happened = (*entries, *(each for each in events if not isinstance(each, Penned)))
    ended_at = max((each.at for each in happened), default=header.started_at)
    return DrillRecord(header, entries, events, ended_at)
