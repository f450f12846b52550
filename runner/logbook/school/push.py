"""Pushes what a logbook has to a school's shared one: new chains whole, known ones from where it stops there.

Each batch is one transaction, and laptops write one after the other. Doing it again adds nothing; a lost
connection leaves whole batches only.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice
from typing import Final

from sqlalchemy import Connection, Table, bindparam, delete, insert, select, update
from sqlalchemy.dialects.postgresql import insert as upsert

from runner.core.record.answer_history import history_of
from runner.errors import RecordError
from runner.logbook.carry.chain_intake import fork_error, new_lines
from runner.logbook.carry.run_export import named_in
from runner.logbook.carry.set_aside import is_aside, switched_in
from runner.logbook.record.chain import ChainLine
from runner.logbook.record.clip_file import is_clip, read_clip
from runner.logbook.record.header import KIND, read_header
from runner.logbook.record.record import Chain, chains, entry_in, find_chain, read_whole, snapshot_text
from runner.logbook.record.run_store import Logbook
from runner.logbook.record.summary_table import answer_row, standing_row
from runner.logbook.school.school import RowRefusedError, School
from runner.logbook.school.shared_table import ANSWER, CHAIN, CLIP, LINE, RUN, SNAPSHOT
from runner.logbook.squawk.maintenance_record import KIND as MAINTENANCE

BATCH: Final = 50
"""Chains in one transaction."""

Rows = list[dict[str, object]]


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
    _align_lists(logbook, school)
    return done


def _missing(logbook: Logbook, school: School) -> list[Chain]:
    known = {row[0]: (row[1], row[2]) for row in school.rows("SELECT id, length, digest FROM chain")}
    own = (*chains(logbook, KIND), *chains(logbook, MAINTENANCE))
    return [chain for chain in own if known.get(chain.id) != (chain.length, chain.digest)]


def _push(logbook: Logbook, school: School, batch: Sequence[Chain], done: Synced) -> Synced:
    """Push a batch in one transaction; when the server refuses a row of it, each of its chains alone."""
    try:
        return _push_together(logbook, school, batch, done)
    except RowRefusedError as error:
        if len(batch) == 1:
            return replace(done, refused=(*done.refused, f"{batch[0].id}: {error}"))
        for chain in batch:
            done = _push(logbook, school, [chain], done)
        return done


def _push_together(logbook: Logbook, school: School, batch: Sequence[Chain], done: Synced) -> Synced:
    refused = list(done.refused)
    with school.writing() as connection:
        claims = _claim(connection, batch)
        cargo = Cargo()
        for chain in batch:
            try:
                cargo.load(logbook, connection, chain, claims[chain.id])
            except RecordError as error:
                refused.append(str(error))
            except (ValueError, LookupError, TypeError) as error:
                refused.append(
                    f"{chain.id}: what the school has of it cannot be read ({error!r}); not synced"
                )
        cargo.send(connection)
    return Synced(done.chains + cargo.chains, done.lines + len(cargo.lines), tuple(refused))


def _attachments(logbook: Logbook, lines: Sequence[ChainLine]) -> tuple[Rows, Rows]:
    texts: Rows = []
    clips: Rows = []
    for name in named_in(lines):
        if is_clip(name):
            clips.append({"name": name, "content": read_clip(logbook.clips, name)})
        else:
            texts.append({"sha256": name, "text": snapshot_text(logbook, name)})
    return texts, clips


Claim = tuple[int, int, str]
"""(number, length, digest) of a chain at the school."""


def _claim(connection: Connection, batch: Sequence[Chain]) -> dict[str, Claim]:
    """What the school has of each chain, made when it was missing."""
    rows = [{"id": chain.id, "kind": chain.kind, "length": 0, "digest": ""} for chain in batch]
    connection.execute(upsert(CHAIN).values(rows).on_conflict_do_nothing())
    found = connection.execute(
        select(CHAIN.c.id, CHAIN.c.number, CHAIN.c.length, CHAIN.c.digest).where(
            CHAIN.c.id.in_([chain.id for chain in batch])
        )
    )
    return {str(row[0]): (int(row[1]), int(row[2]), str(row[3])) for row in found}


@dataclass(slots=True)
class Cargo:
    """What a batch brings to the school, table by table."""

    chains: int = 0
    texts: dict[str, dict[str, object]] = field(default_factory=dict)
    clips: dict[str, dict[str, object]] = field(default_factory=dict)
    lines: Rows = field(default_factory=list)
    ends: Rows = field(default_factory=list)
    runs: Rows = field(default_factory=list)
    answers: Rows = field(default_factory=list)
    unmade: list[int] = field(default_factory=list)
    """Chains that were claimed and brought nothing: no empty ones are left."""

    def load(self, logbook: Logbook, connection: Connection, chain: Chain, claim: Claim) -> None:
        """Add what the school lacks of a chain; RecordError before anything of it was added."""
        number, length, kept = claim
        try:
            lines, texts, clips = _packed(logbook, chain)
            if length >= len(lines):
                _refuse_fork(connection, number, lines[-1])
                return
            added = new_lines(length, kept, lines)
            rows, answers = _summary_rows(logbook, number, chain, lines)
        except RecordError:
            self.unmade += [] if length else [number]
            raise
        self.chains += 1
        self.texts |= {str(row["sha256"]): row for row in texts}
        self.clips |= {str(row["name"]): row for row in clips}
        self.lines += [
            {"chain": number, "sequence": line.sequence, "text": line.text, "digest": line.digest}
            for line in added
        ]
        self.ends.append({"of": number, "to": lines[-1].sequence + 1, "by": lines[-1].digest})
        self.runs += rows
        self.answers += answers

    def send(self, connection: Connection) -> None:
        """One statement a table."""
        for table, rows in ((SNAPSHOT, self.texts), (CLIP, self.clips)):
            if rows:
                connection.execute(upsert(table).on_conflict_do_nothing(), list(rows.values()))
        if self.lines:
            connection.execute(insert(LINE), self.lines)
            known = CHAIN.c.number == bindparam("of")
            ends = update(CHAIN).where(known).values(length=bindparam("to"), digest=bindparam("by"))
            connection.execute(ends, self.ends)
        _replace_summaries(connection, self.runs, self.answers)
        if self.unmade:
            connection.execute(delete(CHAIN).where(CHAIN.c.number.in_(self.unmade), CHAIN.c.length == 0))


def _packed(logbook: Logbook, chain: Chain) -> tuple[tuple[ChainLine, ...], Rows, Rows]:
    reading = read_whole(logbook, chain)
    if reading.fault is not None:
        raise RecordError(f"{chain.id}: {reading.fault}; not synced, `eyesout verify` says more")
    return (reading.lines, *_attachments(logbook, reading.lines))


def _summary_rows(
    logbook: Logbook, number: int, chain: Chain, lines: Sequence[ChainLine]
) -> tuple[Rows, Rows]:
    """The rows of both lists for a run; none for other records, and none while it is set aside."""
    if chain.kind != KIND or is_aside(logbook, chain.id):
        return [], []
    header = read_header(lines[0].body)
    history = history_of(entry_in(line) for line in lines[1:])
    answers = [_row(ANSWER, answer_row(number, header, answer)) for answer in history.standing.values()]
    return [_row(RUN, (number, *standing_row(header, history)))], answers


def _replace_summaries(connection: Connection, runs: Rows, answers: Rows) -> None:
    if not runs:
        return
    _drop_summaries(connection, [row["number"] for row in runs])
    connection.execute(insert(RUN), runs)
    if answers:
        connection.execute(insert(ANSWER), answers)


def _drop_summaries(connection: Connection, numbers: Sequence[object]) -> None:
    connection.execute(delete(ANSWER).where(ANSWER.c.run.in_(numbers)))
    connection.execute(delete(RUN).where(RUN.c.number.in_(numbers)))


def _align_lists(logbook: Logbook, school: School) -> None:
    """Runs that were set aside here, or taken back, leave or join the school's lists."""
    switched = switched_in(logbook)
    if not switched:
        return
    with school.writing() as connection:
        there = connection.execute(
            select(CHAIN.c.id, CHAIN.c.number, CHAIN.c.length).where(CHAIN.c.id.in_(list(switched)))
        ).all()
        _drop_summaries(connection, [number for _, number, _ in there])
        for name, number, length in there:
            chain = find_chain(logbook, str(name))
            if chain is not None and chain.length == length:
                lines = read_whole(logbook, chain).lines
                _replace_summaries(connection, *_summary_rows(logbook, int(number), chain, lines))


def _row(table: Table, values: Iterable[object]) -> dict[str, object]:
    """Plain values by column: PostgreSQL's driver knows neither our enums nor flags in a number's place."""
    return {column.name: _plain(value) for column, value in zip(table.columns, values, strict=True)}


def _plain(value: object) -> object:
    if isinstance(value, str):
        return str(value)
    return int(value) if isinstance(value, bool) else value


def _refuse_fork(connection: Connection, number: int, last: ChainLine) -> None:
    there = connection.execute(
        select(LINE.c.digest).where(LINE.c.chain == number, LINE.c.sequence == last.sequence)
    ).scalar()
    if there != last.digest:
        raise fork_error(last)
