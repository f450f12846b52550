"""The summary tables: one row a run, one row an answer that stands; written with each entry."""

import sqlite3
from collections.abc import Sequence
from dataclasses import astuple, dataclass
from typing import Any

from runner.checklist.model import Outcome
from runner.core.entry import Entry
from runner.logbook.header import RunHeader
from runner.logbook.shelf import Shelf
from runner.logbook.standing import Answer, RunState, Standing, answer_in, end_in, standing, superseded_in

RUN_COLUMNS = (
    "id, started_at, ended_at, state, check_name, airplane, registration, pilot, oat_celsius, "
    "cautions, squawks, is_invented"
)

SHOWN_COLUMNS = (
    f"{RUN_COLUMNS}, (SELECT count(*) FROM answer WHERE answer.run = run.number AND outcome = 'stop')"  # noqa: S608 - a constant's columns
)
"""What a list shows of a run: its columns, and how many stops it has."""

ANSWER_COLUMNS = (
    "run, item, series, registration, kind, answer, value, unit, outcome, at, response_seconds, is_hasty"
)


@dataclass(frozen=True, slots=True)
class RunSummary:
    """One run as a list shows it."""

    run: str
    started_at: float
    ended_at: float | None
    state: RunState
    check: str
    airplane: str
    registration: str
    pilot: str
    oat_celsius: float | None
    cautions: int
    squawks: int
    is_invented: bool
    stops: int = 0


def add_run(connection: sqlite3.Connection, number: int, header: RunHeader) -> None:
    """A new run, still open."""
    write_summary(connection, number, header, standing(()))


def write_summary(connection: sqlite3.Connection, number: int, header: RunHeader, truth: Standing) -> None:
    """Both tables' rows of a run whose record came in as a whole, in place of any it had."""
    row = run_row(number, header, truth)
    connection.execute("DELETE FROM answer WHERE run = ?", (number,))
    connection.execute(
        f"INSERT OR REPLACE INTO run (number, {RUN_COLUMNS}) VALUES (?{', ?' * (len(row) - 1)})",  # noqa: S608 - a constant's columns
        row,
    )
    connection.executemany(
        f"INSERT INTO answer ({ANSWER_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",  # noqa: S608 - a constant's columns
        [answer_row(number, header, answer) for answer in truth.answers.values()],
    )


def run_row(number: int, header: RunHeader, truth: Standing) -> tuple[object, ...]:
    """A run as a row of its table; its stops are counted from the answers' table."""
    return (number, *astuple(summarised(header, truth))[:-1])


def add_entry(connection: sqlite3.Connection, number: int, header: RunHeader, entry: Entry) -> None:
    """What an entry changes in the summaries."""
    answer = answer_in(entry)
    if answer is not None:
        _put_answer(connection, number, header, answer)
    elif (item := superseded_in(entry)) is not None:
        connection.execute("DELETE FROM answer WHERE run = ? AND item = ?", (number, item))
    elif (end := end_in(entry)) is not None:
        connection.execute("UPDATE run SET state = ?, ended_at = ? WHERE number = ?", (end, entry.at, number))
        return
    else:
        return
    _count_outcomes(connection, number)


def _put_answer(connection: sqlite3.Connection, number: int, header: RunHeader, answer: Answer) -> None:
    connection.execute(
        "INSERT OR REPLACE INTO answer VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        answer_row(number, header, answer),
    )


def answer_row(number: int, header: RunHeader, answer: Answer) -> tuple[object, ...]:
    """An answer as a row of its table."""
    return (
        number,
        answer.item,
        header.series.get(answer.item, answer.item),
        header.registration,
        answer.kind,
        answer.answer,
        answer.value,
        answer.unit,
        answer.outcome or "",
        answer.at,
        answer.response_seconds,
        answer.is_hasty,
    )


def _count_outcomes(connection: sqlite3.Connection, number: int) -> None:
    connection.execute(
        "UPDATE run SET (cautions, squawks) = "
        "(SELECT count(*) FILTER (WHERE outcome = ?2), count(*) FILTER (WHERE outcome = ?3) "
        "FROM answer WHERE run = ?1) WHERE number = ?1",
        (number, Outcome.CAUTION, Outcome.SQUAWK),
    )


def summary_of(row: Sequence[Any]) -> RunSummary:
    """A row of the run table, in the order of the columns shown."""
    values = list(row)
    values[3], values[-2] = RunState(values[3]), bool(values[-2])
    return RunSummary(*values)


def summarised(header: RunHeader, truth: Standing) -> RunSummary:
    """The summary that a run must have, by its record."""
    return RunSummary(
        header.run,
        header.started_at,
        truth.ended_at,
        truth.state,
        header.check,
        header.airplane,
        header.registration,
        header.pilot,
        header.oat_celsius,
        truth.count(Outcome.CAUTION),
        truth.count(Outcome.SQUAWK),
        header.is_invented,
        truth.count(Outcome.STOP),
    )


def run_summary(shelf: Shelf, number: int) -> RunSummary | None:
    """The summary that the shelf has of a run."""
    rows = shelf.rows(f"SELECT {SHOWN_COLUMNS} FROM run WHERE number = ?", (number,))  # noqa: S608 - a constant's columns
    return summary_of(rows[0]) if rows else None


def answer_rows(shelf: Shelf, number: int) -> list[tuple[Any, ...]]:
    """The rows that the shelf has of a run's answers, by item."""
    query = f"SELECT {ANSWER_COLUMNS} FROM answer WHERE run = ?"  # noqa: S608 - a constant's columns
    return sorted(shelf.rows(query, (number,)), key=lambda row: str(row[1]))
