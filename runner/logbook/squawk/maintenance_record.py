"""Maintenance records: what became of a squawk, and what was done to an airplane; chained like runs.

Each logbook writes chains of its own, one per run (its squawks) and one per airplane (work done), so two
laptops never write the same chain.
"""

import sqlite3
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import asdict, dataclass, field, fields
from datetime import date
from itertools import groupby
from typing import Any, Final, get_args

from runner.errors import RecordError
from runner.logbook.proof.link import LinkCause, add_links
from runner.logbook.record.chain import next_line, read_chain, read_line
from runner.logbook.record.header import is_moment
from runner.logbook.record.ledger import add_line, start_chain
from runner.logbook.record.record import Chain, find_chain
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.record.run_store import Logbook

KIND: Final = "maintenance"


@dataclass(frozen=True, slots=True)
class Noted:
    """Someone wrote or said something about a squawk."""

    at: float
    by: str
    item: str
    text: str
    clip: str = ""
    """Name of a sound clip, empty when there is none."""


@dataclass(frozen=True, slots=True)
class Deferred:
    """The squawk was deferred by a person, on a reference of theirs, until a date."""

    at: float
    by: str
    item: str
    reference: str
    """What it was deferred under, as written by that person."""
    until: str
    """ISO 8601 date."""
    answers: Mapping[str, bool] = field(default_factory=dict)
    """Answers given to the questions of 14 CFR 91.213(d), by paragraph."""


@dataclass(frozen=True, slots=True)
class Closed:
    """The squawk was closed: who did it and how."""

    at: float
    by: str
    item: str
    how: str


@dataclass(frozen=True, slots=True)
class Serviced:
    """Work was done on the airplane: a step from here on is a new baseline."""

    at: float
    by: str
    what: str
    series: str = ""
    """The gyro or reading that it concerns; empty for the whole airplane."""


@dataclass(frozen=True, slots=True)
class SetAside:
    """A run that was imported is to be in no list, trend or report; its record stays."""

    at: float
    by: str
    why: str


@dataclass(frozen=True, slots=True)
class TakenBack:
    """A run that was set aside counts again."""

    at: float
    by: str
    why: str


Remark = Noted | Deferred | Closed
"""What can be recorded about a squawk."""

Record = Remark | Serviced | SetAside | TakenBack

_KINDS: Final = {kind.__name__.lower(): kind for kind in get_args(Record)}


@dataclass(frozen=True, slots=True)
class Filed:
    """A maintenance record with what it is about."""

    subject: str
    """A run's id, or a registration."""
    record: Record


def record_json(record: Record) -> Mapping[str, Any]:
    """A record as JSON."""
    return {"kind": type(record).__name__.lower()} | asdict(record)


def read_record(body: Mapping[str, Any]) -> Record:
    """A record out of its JSON; RecordError when it is none."""
    kind = _KINDS.get(str(body.get("kind")))
    if kind is None or not body.keys() - {"kind"} <= {field.name for field in fields(kind)}:
        raise RecordError(f"not a maintenance record: {body.get('kind')!r}")
    given = {key: value for key, value in body.items() if key != "kind"}
    wrong = [name for name, value in given.items() if not _fits(name, value)]
    if wrong:
        raise RecordError(f"not a maintenance record: {wrong[0]} cannot be {given[wrong[0]]!r}"[:200])
    try:
        record: Record = kind(**given)
    except TypeError as error:
        raise RecordError(f"not a maintenance record: {error}") from None
    return record


def _fits(name: str, value: object) -> bool:
    """Whether a field can have that value, and everything that reads it later can work with it."""
    match name:
        case "at":
            return is_moment(value)
        case "answers":
            return isinstance(value, Mapping) and all(type(answer) is bool for answer in value.values())
        case "until":
            return isinstance(value, str) and _is_date(value)
        case _:
            return isinstance(value, str)


def _is_date(words: str) -> bool:
    try:
        return bool(date.fromisoformat(words))
    except ValueError:
        return False


def file_record(logbook: Logbook, subject: str, record: Record) -> None:
    """Append a record about a run's squawk (subject: the run's id) or an airplane (its registration)."""
    with logbook.writing() as connection:
        append_record(logbook, connection, subject, record)


def append_record(logbook: Logbook, connection: sqlite3.Connection, subject: str, record: Record) -> None:
    """The same inside the caller's transaction."""
    name = f"{subject}+{logbook.writer}"
    chain = find_chain(logbook, name)
    if chain is None:
        header = {"kind": KIND, "subject": subject, "writer": logbook.writer}
        number = start_chain(connection, name, KIND, header)
    else:
        number = chain.number
    rows = logbook.rows("SELECT text FROM line WHERE chain = ? ORDER BY sequence DESC LIMIT 1", (number,))
    line = next_line(read_line(rows[0][0]), record_json(record))
    add_line(connection, number, line)
    add_links(connection, KIND, [line], LinkCause.FILED)


def filed_about(shelf: Shelf, subject: str | None = None) -> tuple[Filed, ...]:
    """Records about a subject, or about all, by time; RecordError where a chain is broken."""
    where, parameters = "", [KIND]
    if subject is not None:  # the character after "+" is ",": all writers' chains of the subject
        where, parameters = "AND c.id >= ? AND c.id < ?", [KIND, f"{subject}+", f"{subject},"]
    rows = shelf.rows(
        "SELECT c.id, l.sequence, l.text, l.digest FROM chain c JOIN line l ON l.chain = c.number "  # noqa: S608 - constants
        f"WHERE c.kind = ? {where} ORDER BY c.id, l.sequence",
        parameters,
    )
    found: list[Filed] = []
    for name, group in groupby(rows, key=lambda row: str(row[0])):
        reading = read_chain((sequence, text, kept) for _, sequence, text, kept in group)
        if reading.fault is not None:
            raise RecordError(f"maintenance records {name}: {reading.fault}; `eyesout verify` says more")
        about = str(reading.lines[0].body.get("subject"))
        for line in reading.lines[1:]:
            with suppress(RecordError):  # of no known meaning: verify names it, and nothing else ends on it
                found.append(Filed(about, read_record(line.body)))
    return tuple(sorted(found, key=lambda filed: filed.record.at))


def chains_about(shelf: Shelf, subject: str) -> tuple[Chain, ...]:
    """The chains of records about a run or an airplane, one per logbook that wrote any."""
    rows = shelf.rows(
        "SELECT number, id, kind, length, digest FROM chain "
        "WHERE kind = ? AND id >= ? AND id < ? ORDER BY id",
        (KIND, f"{subject}+", f"{subject},"),
    )
    return tuple(Chain(*row) for row in rows)


def services_of(shelf: Shelf, registration: str) -> tuple[Serviced, ...]:
    """Work done on an airplane, oldest first: where its trends start anew."""
    records = (filed.record for filed in filed_about(shelf, registration))
    return tuple(record for record in records if isinstance(record, Serviced))
