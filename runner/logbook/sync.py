"""Pushes what a logbook has to a school's shared one: new chains whole, known ones from where it stops there.

Each batch is one transaction, and laptops write one after the other. Doing it again adds nothing; a lost
connection leaves whole batches only.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Final

from sqlalchemy import Connection, Table, delete, insert, select, update
from sqlalchemy.dialects.postgresql import insert as upsert

from runner.errors import RecordError
from runner.logbook.admit import fork_error, new_lines
from runner.logbook.chain import Line
from runner.logbook.clip import is_clip, read_clip
from runner.logbook.export import named_in
from runner.logbook.header import KIND, read_header
from runner.logbook.maintenance import KIND as MAINTENANCE
from runner.logbook.record import Chain, chains, entry_in, read_whole, snapshot_text
from runner.logbook.school import School
from runner.logbook.shared_table import ANSWER, CHAIN, CLIP, LINE, RUN, SNAPSHOT
from runner.logbook.standing import standing
from runner.logbook.store import Logbook
from runner.logbook.summary import answer_row, run_row

BATCH: Final = 50
"""Chains in one transaction."""


@dataclass(frozen=True, slots=True)
class Synced:
    """What a sync brought to the school."""

    chains: int
    """Chains that were new there or grew."""
    lines: int
    """Lines that were new there."""
    refused: tuple[str, ...]
    """Chains that stayed away, one sentence each; the others went on."""


def sync(logbook: Logbook, school: School, tell: Callable[[Synced], None] = lambda _: None) -> Synced:
    """Push everything the school does not have; `tell` gets what has arrived so far after each batch.

    RecordError when the connection is lost: what was told has arrived, the rest goes with the next sync.
    """
    done = Synced(0, 0, ())
    waiting = iter(_missing(logbook, school))
    while batch := tuple(islice(waiting, BATCH)):
        done = _push(logbook, school, batch, done)
        tell(done)
    return done


def _missing(logbook: Logbook, school: School) -> list[Chain]:
    known = {row[0]: (row[1], row[2]) for row in school.rows("SELECT id, length, digest FROM chain")}
    own = (*chains(logbook, KIND), *chains(logbook, MAINTENANCE))
    return [chain for chain in own if known.get(chain.id) != (chain.length, chain.digest)]


def _push(logbook: Logbook, school: School, batch: Sequence[Chain], done: Synced) -> Synced:
    count, added, refused = done.chains, done.lines, list(done.refused)
    with school.writing() as connection:
        for chain in batch:
            try:
                new = _push_chain(logbook, connection, chain)
            except RecordError as error:
                refused.append(str(error))
                continue
            count += new > 0
            added += new
    return Synced(count, added, tuple(refused))


def _push_chain(logbook: Logbook, connection: Connection, chain: Chain) -> int:
    """Push one chain; gives how many of its lines were new. RecordError before anything of it was written."""
    reading = read_whole(logbook, chain)
    if reading.fault is not None:
        raise RecordError(f"{chain.id}: {reading.fault}; not synced, `eyesout verify` says more")
    lines = reading.lines
    texts, clips = _attachments(logbook, lines)
    number, length, kept = _claim(connection, chain)
    if length >= len(lines):
        _refuse_fork(connection, number, lines[-1])
        return 0
    added = new_lines(length, kept, lines)
    for table, rows in ((SNAPSHOT, texts), (CLIP, clips)):
        if rows:
            connection.execute(upsert(table).on_conflict_do_nothing(), rows)
    _add_lines(connection, number, added)
    if chain.kind == KIND:
        _summarise(connection, number, lines)
    return len(added)


Rows = list[dict[str, object]]


def _attachments(logbook: Logbook, lines: Sequence[Line]) -> tuple[Rows, Rows]:
    texts: Rows = []
    clips: Rows = []
    for name in named_in(lines):
        if is_clip(name):
            clips.append({"name": name, "content": read_clip(logbook.clips, name)})
        else:
            texts.append({"sha256": name, "text": snapshot_text(logbook, name)})
    return texts, clips


def _claim(connection: Connection, chain: Chain) -> tuple[int, int, str]:
    """(number, length, digest) of the chain there, made when it was missing."""
    made = connection.execute(
        upsert(CHAIN)
        .values(id=chain.id, kind=chain.kind, length=0, digest="")
        .on_conflict_do_nothing()
        .returning(CHAIN.c.number)
    ).scalar()
    if made is not None:
        return int(made), 0, ""
    row = connection.execute(
        select(CHAIN.c.number, CHAIN.c.length, CHAIN.c.digest).where(CHAIN.c.id == chain.id)
    ).one()
    return int(row[0]), int(row[1]), str(row[2])


def _add_lines(connection: Connection, number: int, lines: Sequence[Line]) -> None:
    rows = [
        {"chain": number, "sequence": line.sequence, "text": line.text, "digest": line.digest}
        for line in lines
    ]
    connection.execute(insert(LINE), rows)
    last = lines[-1]
    connection.execute(
        update(CHAIN).where(CHAIN.c.number == number).values(length=last.sequence + 1, digest=last.digest)
    )


def _summarise(connection: Connection, number: int, lines: Sequence[Line]) -> None:
    header = read_header(lines[0].body)
    truth = standing(entry_in(line) for line in lines[1:])
    connection.execute(delete(ANSWER).where(ANSWER.c.run == number))
    connection.execute(delete(RUN).where(RUN.c.number == number))
    connection.execute(insert(RUN), [_row(RUN, run_row(number, header, truth))])
    answers = [_row(ANSWER, answer_row(number, header, answer)) for answer in truth.answers.values()]
    if answers:
        connection.execute(insert(ANSWER), answers)


def _row(table: Table, values: Iterable[object]) -> dict[str, object]:
    """Plain values by column: PostgreSQL's driver knows neither our enums nor flags in a number's place."""
    return {column.name: _plain(value) for column, value in zip(table.columns, values, strict=True)}


def _plain(value: object) -> object:
    if isinstance(value, str):
        return str(value)
    return int(value) if isinstance(value, bool) else value


def _refuse_fork(connection: Connection, number: int, last: Line) -> None:
    there = connection.execute(
        select(LINE.c.digest).where(LINE.c.chain == number, LINE.c.sequence == last.sequence)
    ).scalar()
    if there != last.digest:
        raise fork_error(last)
