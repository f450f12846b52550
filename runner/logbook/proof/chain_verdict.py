"""The closer look at one record: why it is not whole, in words; it never ends on what it finds."""

from collections.abc import Iterator
from dataclasses import dataclass

from runner.core.record.answer_history import history_of
from runner.errors import RecordError
from runner.logbook.record.chain import ChainLine, ChainRead
from runner.logbook.record.header import KIND, RunHeader, read_header
from runner.logbook.record.record import Chain, entries_in, read_whole, snapshot_text
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.record.summary_table import ANSWER_COLUMNS, RUN_COLUMNS, answer_row, standing_row
from runner.logbook.squawk.maintenance_record import KIND as MAINTENANCE
from runner.logbook.squawk.maintenance_record import read_record

UNREADABLE = (RecordError, ValueError, TypeError, KeyError, ArithmeticError, AttributeError, RecursionError)
"""What a row with anything at all in its columns may raise where it is read."""


@dataclass(frozen=True, slots=True)
class ChainVerdict:
    """What was found about one chain."""

    chain: str
    lines: int
    """How many lines are whole, header included."""
    digest: str
    """The hash of the last whole line; compare it with a printed report."""
    faults: tuple[str, ...]


def look_closely(shelf: Shelf, chain: Chain, *, is_aside: bool = False) -> ChainVerdict:
    """Everything that is wrong with a record; a run that was set aside must be in no list."""
    lines: tuple[ChainLine, ...] = ()
    faults: list[str] = []
    try:
        reading = read_whole(shelf, chain)
        lines = reading.lines
        faults += [] if reading.fault is None else [reading.fault]
        faults += _faults(shelf, chain, reading, is_aside=is_aside)
    except UNREADABLE as error:
        faults.append(f"its rows cannot be read: {error}")
    return ChainVerdict(str(chain.id), len(lines), lines[-1].digest if lines else "", tuple(faults))


def _faults(shelf: Shelf, chain: Chain, reading: ChainRead, *, is_aside: bool) -> Iterator[str]:
    if not reading.lines:
        return
    first = reading.lines[0]
    if first.chain != chain.id:
        yield f"its lines are those of {first.chain}; the record was renamed"
    if first.body.get("kind") != chain.kind:
        yield f"it is kept as {chain.kind!r}, but its header says {first.body.get('kind')!r}"
    if chain.kind == KIND:
        yield from _run_faults(shelf, chain, reading, is_aside=is_aside)
    elif chain.kind == MAINTENANCE:
        for line in reading.lines[1:]:
            yield from _record_fault(line)


def _record_fault(line: ChainLine) -> Iterator[str]:
    try:
        read_record(line.body)
    except RecordError as error:
        yield f"line {line.sequence}: {error}"


def _run_faults(shelf: Shelf, chain: Chain, reading: ChainRead, *, is_aside: bool) -> Iterator[str]:
    header = read_header(reading.lines[0].body)
    if header.run != chain.id:
        yield f"its header is that of run {header.run}"
    yield from _lost_texts(shelf, header)
    if reading.fault is None:
        yield from _summary_faults(shelf, chain.number, header, reading, is_aside=is_aside)


def _lost_texts(shelf: Shelf, header: RunHeader) -> Iterator[str]:
    for sha256 in (header.check_sha256, header.airplane_sha256):
        try:
            snapshot_text(shelf, sha256)
        except RecordError as error:
            yield str(error)


def _summary_faults(
    shelf: Shelf, number: int, header: RunHeader, reading: ChainRead, *, is_aside: bool
) -> Iterator[str]:
    history = history_of(entries_in(reading))
    standing = history.standing
    wanted = [] if is_aside else [standing_row(header, history)]
    rows = shelf.rows(f"SELECT {RUN_COLUMNS} FROM run WHERE number = ?", (number,))  # noqa: S608 - a constant's columns
    if list(map(tuple, rows)) != wanted:
        yield "the summary of the run disagrees with its record; lists may be wrong, the record stands"
    answers = {} if is_aside else {item: answer_row(number, header, standing[item]) for item in standing}
    kept = shelf.rows(f"SELECT {ANSWER_COLUMNS} FROM answer WHERE run = ?", (number,))  # noqa: S608 - a constant's columns
    if len(kept) != len(answers) or {row[1]: tuple(row) for row in kept} != answers:
        yield "the summary of its answers disagrees with its record; series may be wrong, the record stands"
