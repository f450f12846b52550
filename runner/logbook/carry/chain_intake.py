"""Takes in chains that were written elsewhere: new ones whole, known ones from where this logbook stops."""

import re
import sqlite3
from collections.abc import Sequence
from typing import Final

from runner.core.record.answer_history import history_of
from runner.core.record.given_answer import answer_in
from runner.errors import RecordError
from runner.logbook.carry.set_aside import is_aside, list_run
from runner.logbook.proof.link import LinkCause, add_links
from runner.logbook.record.chain import ChainLine
from runner.logbook.record.header import KIND, is_moment, read_header
from runner.logbook.record.ledger import add_chain, add_line
from runner.logbook.record.lock import RunLock
from runner.logbook.record.record import entry_in, find_chain
from runner.logbook.record.run_store import Logbook
from runner.logbook.record.summary_table import write_summary
from runner.logbook.squawk.maintenance_record import KIND as MAINTENANCE
from runner.logbook.squawk.maintenance_record import read_record

KINDS: Final = (KIND, MAINTENANCE)

LARGEST: Final = 1e12
"""No number of a run is larger, times of day included."""

_ID: Final = re.compile(r"[\w][\w.+ -]*")
"""How runs are named: a person types it after `eyesout show`."""


def kind_of(header: ChainLine) -> str:
    """What a chain with this first line is; RecordError when it is nothing known."""
    kind = header.body.get("kind")
    if kind == KIND and not _ID.fullmatch(header.chain):
        raise RecordError(f"{header.chain!r} is no name of a run")
    if kind not in KINDS:
        raise RecordError(f"{header.chain} is neither a run nor maintenance records, but {kind!r}")
    return str(kind)


def check_meaning(line: ChainLine, kind: str) -> None:
    """RecordError when a line is not what its place says, or no later command could read it."""
    if line.sequence == 0:
        if kind == KIND:
            _check_header(line)
        if kind == MAINTENANCE:
            _check_subject(line)
    elif kind == KIND:
        _check_entry(line)
    else:
        read_record(line.body)


def _check_header(line: ChainLine) -> None:
    header = read_header(line.body)
    if header.run != line.chain:
        raise RecordError(f"the header of {line.chain} names another run")
    if header.oat_celsius is not None and not abs(header.oat_celsius) <= LARGEST:
        raise RecordError(f"{line.chain}: {header.oat_celsius!r} is no temperature"[:300])


def _check_subject(line: ChainLine) -> None:
    given = dict(line.body)
    if given.keys() != {"kind", "subject", "writer"} or f"{given['subject']}+{given['writer']}" != line.chain:
        raise RecordError(f"the header of {line.chain} is not that of maintenance records")


def _check_entry(line: ChainLine) -> None:
    entry = entry_in(line)
    for name, value in line.body.items():
        if name in ("at", "onset_at") and not is_moment(value):
            raise RecordError(f"{line.chain} line {line.sequence}: {name}: {value!r} is no time")
        if type(value) in (int, float) and not abs(value) <= LARGEST:
            raise RecordError(f"{line.chain} line {line.sequence}: {name} cannot be {value!r}"[:300])
    answer = answer_in(entry)
    if answer is not None and answer.value is not None and not abs(answer.value) <= LARGEST:
        raise RecordError(f"{line.chain} line {line.sequence}: its answer is no number of a gauge")


def new_lines(known_length: int, known_digest: str, lines: Sequence[ChainLine]) -> Sequence[ChainLine]:
    """The lines that go beyond a known beginning; RecordError when they are not its continuation."""
    if known_length and lines[known_length - 1].digest != known_digest:
        raise fork_error(lines[known_length - 1])
    return lines[known_length:]


def fork_error(line: ChainLine) -> RecordError:
    """Two versions of one chain: neither may overwrite the other."""
    return RecordError(
        f"{line.chain} line {line.sequence} is not the one already recorded; "
        "one of the two was changed, or a copied logbook was written in both copies"
    )


def take_in_chain(connection: sqlite3.Connection, logbook: Logbook, lines: Sequence[ChainLine]) -> int:
    """Take in a whole, checked chain, inside the caller's transaction; gives how many lines were new."""
    kind = kind_of(lines[0])
    chain = find_chain(logbook, lines[0].chain)
    if chain is None:
        number = add_chain(connection, kind, lines)
        _summarise(connection, logbook, number, lines)
        add_links(connection, kind, lines[-1:], LinkCause.TAKEN_IN)
        return len(lines)
    if chain.length >= len(lines):
        _refuse_fork(logbook, chain.number, lines[-1])
        return 0
    added = new_lines(chain.length, chain.digest, lines)
    lock = RunLock(logbook.folder / "open", chain.id)
    try:
        for line in added:
            add_line(connection, chain.number, line)
        _summarise(connection, logbook, chain.number, lines)
        add_links(connection, kind, lines[-1:], LinkCause.TAKEN_IN)
    finally:
        lock.release()
    return len(added)


def _summarise(
    connection: sqlite3.Connection, logbook: Logbook, number: int, lines: Sequence[ChainLine]
) -> None:
    """Bring the lists into line: a run is in them unless it was set aside, here or elsewhere."""
    header = lines[0].body
    if header.get("kind") == KIND:
        if not is_aside(logbook, lines[0].chain):
            truth = history_of(entry_in(line) for line in lines[1:])
            write_summary(connection, number, read_header(header), truth)
    else:
        subject = find_chain(logbook, str(header.get("subject")))
        if subject is not None and subject.kind == KIND:
            list_run(connection, logbook, subject)


def _refuse_fork(logbook: Logbook, number: int, last: ChainLine) -> None:
    rows = logbook.rows("SELECT digest FROM line WHERE chain = ? AND sequence = ?", (number, last.sequence))
    if not rows or rows[0][0] != last.digest:
        raise fork_error(last)
