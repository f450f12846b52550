"""The summary tables: one row a run, one row an answer that stands; written with each entry."""

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from runner.core.record.answer_history import AnswerHistory, RunState, end_in
from runner.core.record.entry import Entry
from runner.core.record.given_answer import GivenAnswer, answer_in, superseded_in
from runner.language.catalogue import Outcome
from runner.logbook.record.header import RunHeader

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
    write_summary(connection, number, header, AnswerHistory())


def write_summary(
    connection: sqlite3.Connection, number: int, header: RunHeader, history: AnswerHistory
) -> None:
    """Both tables' rows of a run whose record came in as a whole, in place of any it had."""
    row = (number, *standing_row(header, history))
    connection.execute("DELETE FROM answer WHERE run = ?", (number,))
    connection.execute(
        f"INSERT OR REPLACE INTO run (number, {RUN_COLUMNS}) VALUES (?{', ?' * (len(row) - 1)})",  # noqa: S608 - a constant's columns
        row,
    )
    connection.executemany(
        f"INSERT INTO answer ({ANSWER_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",  # noqa: S608 - a constant's columns
        [answer_row(number, header, answer) for answer in history.standing.values()],
    )


def drop_summary(connection: sqlite3.Connection, number: int) -> None:
    """Take a run out of all lists; its record stays."""
    connection.execute("DELETE FROM answer WHERE run = ?", (number,))
    connection.execute("DELETE FROM run WHERE number = ?", (number,))


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


def _put_answer(connection: sqlite3.Connection, number: int, header: RunHeader, answer: GivenAnswer) -> None:
    connection.execute(
        "INSERT OR REPLACE INTO answer VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        answer_row(number, header, answer),
    )


def answer_row(number: int, header: RunHeader, answer: GivenAnswer) -> tuple[object, ...]:
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


def standing_row(header: RunHeader, history: AnswerHistory) -> tuple[Any, ...]:
    """The row that a run must have in its table, by its record; without its number."""
    counts = (history.count(Outcome.CAUTION), history.count(Outcome.SQUAWK))
    return run_row(header, history.state, history.ended_at, *counts)


def run_row(
    header: RunHeader, state: RunState, ended_at: float | None, cautions: int, squawks: int
) -> tuple[Any, ...]:
    """A run as a row of its table, without its number."""
    return (
        header.run,
        header.started_at,
        ended_at,
        state,
        header.check,
        header.airplane,
        header.registration,
        header.pilot,
        header.oat_celsius,
        cautions,
        squawks,
        header.is_invented,
    )
