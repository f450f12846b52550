"""Reading a run back from any shelf: its header, its lines as far as they are whole, its files' texts."""

from dataclasses import dataclass

from runner.core.record.codec import from_json
from runner.core.record.entry import Entry
from runner.errors import RecordError
from runner.logbook.record.chain import ChainLine, ChainRead, digest, read_chain, read_line
from runner.logbook.record.header import KIND, RunHeader, read_header
from runner.logbook.record.record_shelf import Shelf


@dataclass(frozen=True, slots=True)
class Chain:
    """A chain as the `chain` table lists it."""

    number: int
    id: str
    kind: str
    length: int
    """How many lines it has, header included."""
    digest: str
    """The hash of its last line: the hash of the whole record."""


@dataclass(frozen=True, slots=True)
class Snapshots:
    """The exact texts of the files that a run was made with."""

    check: str
    airplane: str


_CHAIN = "SELECT number, id, kind, length, digest FROM chain"


def chains(shelf: Shelf, kind: str) -> tuple[Chain, ...]:
    """All chains of a kind in the order in which they came onto this shelf."""
    return tuple(Chain(*row) for row in shelf.rows(f"{_CHAIN} WHERE kind = ? ORDER BY number", (kind,)))


def all_chains(shelf: Shelf) -> tuple[Chain, ...]:
    """All chains of every kind, also of kinds that are none."""
    return tuple(Chain(*row) for row in shelf.rows(f"{_CHAIN} ORDER BY number"))


def find_chain(shelf: Shelf, chain: str) -> Chain | None:
    """The chain of that id, if the shelf has it."""
    rows = shelf.rows(f"{_CHAIN} WHERE id = ?", (chain,))
    return Chain(*rows[0]) if rows else None


def run_chain(shelf: Shelf, run: str) -> Chain:
    """The chain of a run; RecordError when the shelf has no such run."""
    chain = find_chain(shelf, run)
    if chain is None or chain.kind != KIND:
        raise RecordError(f'no run "{run}" in {shelf.place}; `eyesout history` lists them')
    return chain


def read_whole(shelf: Shelf, chain: Chain) -> ChainRead:
    """Read a chain as far as it is whole; lines missing at its end are a fault as well."""
    reading = read_chain(
        shelf.rows(
            "SELECT sequence, text, digest FROM line WHERE chain = ? ORDER BY sequence", (chain.number,)
        )
    )
    if reading.fault is None and (
        len(reading.lines) != chain.length or reading.lines[-1].digest != chain.digest
    ):
        return ChainRead(
            reading.lines,
            f"the record ends at line {reading.lines[-1].sequence}, but {_after_header(chain.length)} lines "
            "were written after the header",
        )
    return reading


def _after_header(length: object) -> object:
    return length - 1 if isinstance(length, int) else length


def header_of(shelf: Shelf, run: str) -> RunHeader:
    """What the run was made with."""
    rows = shelf.rows(
        "SELECT text FROM line WHERE chain = ? AND sequence = 0", (run_chain(shelf, run).number,)
    )
    if not rows:
        raise RecordError(f"run {run} has no header; `eyesout verify` says what can be read")
    return read_header(read_line(rows[0][0]).body)


def entries_of(shelf: Shelf, run: str) -> tuple[Entry, ...]:
    """All entries of a whole run; RecordError names the place where a damaged one breaks."""
    reading = read_whole(shelf, run_chain(shelf, run))
    if reading.fault is not None:
        raise RecordError(f"run {run}: {reading.fault}; `eyesout verify` says what can be read")
    return entries_in(reading)


def entries_in(reading: ChainRead) -> tuple[Entry, ...]:
    """The entries of the whole part of a run's chain (the header left out); RecordError names an odd one."""
    return tuple(entry_in(line) for line in reading.lines[1:])


def entry_in(line: ChainLine) -> Entry:
    """The entry that a line holds; RecordError when this eyesout does not know it."""
    try:
        return from_json(line.body)
    except ValueError as error:
        raise RecordError(f"run {line.chain}: line {line.sequence}: {error}") from None


def snapshots_of(shelf: Shelf, run: str) -> Snapshots:
    """The check and airplane texts that the run was made with."""
    header = header_of(shelf, run)
    return Snapshots(snapshot_text(shelf, header.check_sha256), snapshot_text(shelf, header.airplane_sha256))


def snapshot_text(shelf: Shelf, sha256: str) -> str:
    """The text with that hash; RecordError when it is missing or was changed."""
    rows = shelf.rows("SELECT text FROM snapshot WHERE sha256 = ?", (sha256,))
    if not rows:
        raise RecordError(f"the file text {sha256[:12]} is missing from {shelf.place}")
    text = str(rows[0][0])
    if digest(text) != sha256:
        raise RecordError(f"the file text {sha256[:12]} in {shelf.place} was changed after it was recorded")
    return text
