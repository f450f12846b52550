"""Runs that were taken in and set aside again: their records stay, no list, trend or report has them."""

import sqlite3
from collections.abc import Mapping

from runner.core.record.answer_history import history_of
from runner.errors import RecordError
from runner.logbook.proof.link import KIND as LINKS
from runner.logbook.proof.link import LinkCause, RecordLink
from runner.logbook.record.chain import read_line
from runner.logbook.record.lock import RunLock
from runner.logbook.record.record import Chain, entries_of, header_of, run_chain
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.record.run_store import Logbook
from runner.logbook.record.summary_table import drop_summary, write_summary
from runner.logbook.squawk.maintenance_record import KIND as MAINTENANCE
from runner.logbook.squawk.maintenance_record import SetAside, TakenBack, append_record, read_record


def aside_in(shelf: Shelf) -> Mapping[str, SetAside]:
    """Every run of a shelf that is set aside now, with who did it and why."""
    return {run: last for run, last in switched_in(shelf).items() if isinstance(last, SetAside)}


def switched_in(shelf: Shelf) -> Mapping[str, SetAside | TakenBack]:
    """Every run that was set aside, with what was said of that last; odd records count for nothing."""
    rows = shelf.rows(
        "SELECT c.id, l.text FROM chain c JOIN line l ON l.chain = c.number "
        "WHERE c.kind = ? AND l.text LIKE ? ORDER BY c.id, l.sequence",
        (MAINTENANCE, '%"kind":"setaside"%'),
    )
    subjects = {str(row[0]).rpartition("+")[0] for row in rows}
    found = ((subject, last_of(shelf, subject)) for subject in sorted(subjects))
    return {subject: last for subject, last in found if last is not None}


def last_of(shelf: Shelf, run: str) -> SetAside | TakenBack | None:
    """What was last said of a run's being set aside; None when nothing ever was."""
    rows = shelf.rows(
        "SELECT l.text FROM chain c JOIN line l ON l.chain = c.number "
        "WHERE c.kind = ? AND c.id >= ? AND c.id < ? AND l.sequence > 0",
        (MAINTENANCE, f"{run}+", f"{run},"),
    )
    said = []
    for (text,) in rows:
        try:
            record = read_record(read_line(text).body)
        except RecordError:
            continue
        if isinstance(record, (SetAside, TakenBack)):
            said.append(record)
    return max(said, key=lambda record: record.at, default=None)


def is_aside(shelf: Shelf, run: str) -> bool:
    """True for a run that is set aside now."""
    return isinstance(last_of(shelf, run), SetAside)


def set_aside(logbook: Logbook, run: str, record: SetAside) -> None:
    """Take an imported run out of all lists; RecordError when it was made here, is open, or is aside."""
    if is_aside(logbook, run):
        raise RecordError(f"run {run} is set aside already")
    if _was_begun_here(logbook, run):
        raise RecordError(
            f"run {run} was made in this logbook; only runs that were imported can be set aside"
        )
    _switch(logbook, run, record)


def take_back(logbook: Logbook, run: str, record: TakenBack) -> None:
    """Put a run that was set aside into all lists again; RecordError when it is not aside, or not whole."""
    if not is_aside(logbook, run):
        raise RecordError(f"run {run} is not set aside; `eyesout import --list` shows those that are")
    _switch(logbook, run, record)


def _switch(logbook: Logbook, run: str, record: SetAside | TakenBack) -> None:
    chain = run_chain(logbook, run)
    lock = RunLock(logbook.folder / "open", run)
    try:
        with logbook.writing() as connection:
            append_record(logbook, connection, run, record)
            list_run(connection, logbook, chain)
    finally:
        lock.release()


def list_run(connection: sqlite3.Connection, logbook: Logbook, chain: Chain) -> None:
    """Have a run in all lists, or in none while it is set aside, in the caller's transaction."""
    if is_aside(logbook, chain.id):
        drop_summary(connection, chain.number)
    else:
        truth = history_of(entries_of(logbook, chain.id))
        write_summary(connection, chain.number, header_of(logbook, chain.id), truth)


def _was_begun_here(logbook: Logbook, run: str) -> bool:
    rows = logbook.rows(
        "SELECT l.text FROM chain c JOIN line l ON l.chain = c.number WHERE c.kind = ? AND l.text LIKE ?",
        (LINKS, f'%"chain":"{run}"%'),
    )
    links = [RecordLink.read(read_line(text)) for (text,) in rows]
    return any(link is not None and link.chain == run and link.cause == LinkCause.BEGUN for link in links)
