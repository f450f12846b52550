"""What can still be read of a damaged logbook, and where each record breaks; the files are never changed.

Two ways are joined: SQLite reads a copy as far as it can, and lines are found in the raw bytes of the file
and of its write-ahead log. A line counts only when its hash is right and it follows from the line before.
"""

import shutil
import sqlite3
import tempfile
from collections.abc import Collection, Iterator, Mapping
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from runner.errors import RecordError
from runner.logbook.proof.link import links_name
from runner.logbook.proof.raw_line import find_lines
from runner.logbook.record.chain import START, ChainLine, digest, read_line
from runner.logbook.record.run_store import FILE

_LENGTHS: Final = "SELECT id, length FROM chain WHERE typeof(length) = 'integer'"


@dataclass(frozen=True, slots=True)
class Salvaged:
    """One chain as far as it could be read."""

    chain: str
    lines: tuple[ChainLine, ...]
    """From the header on, each following from the one before; empty when the header is lost."""
    fault: str | None
    """Why it ends there; None when it is as long as the logbook says it was."""


@dataclass(frozen=True, slots=True)
class Salvage:
    """What could be read of a logbook."""

    chains: tuple[Salvaged, ...]
    snapshots: Mapping[str, str]
    """Texts of check and airplane files by their SHA-256, each proven by it."""


def salvage(folder: Path) -> Salvage:
    """Read what can be read in the logbook of a folder; RecordError when there is no file at all."""
    pool: dict[str, dict[tuple[int, str], ChainLine]] = {}
    with tempfile.TemporaryDirectory(prefix="eyesout-") as scratch:
        copies = _copy(folder, Path(scratch))
        data = b"\n".join(copy.read_bytes() for copy in copies)
        lengths, stored, snapshots = _through_sqlite(copies[0])
    for line in (*stored, *find_lines(data)):
        pool.setdefault(line.chain, {}).setdefault((line.sequence, line.previous), line)
    names = sorted(name for name in pool.keys() | lengths.keys() if not name.startswith(links_name("")))
    return Salvage(tuple(_salvaged(name, pool.get(name, {}), lengths.get(name)) for name in names), snapshots)


def _copy(folder: Path, scratch: Path) -> list[Path]:
    path = folder / FILE
    if not path.exists():
        raise RecordError(f"no logbook in {folder}; name its folder with --logbook")
    sources = [path, Path(f"{path}-wal")]
    try:
        return [Path(shutil.copy2(source, scratch)) for source in sources if source.exists()]
    except OSError as error:
        raise RecordError(f"logbook {path}: {error.strerror}; name another folder with --logbook") from None


def _through_sqlite(path: Path) -> tuple[dict[str, int], list[ChainLine], dict[str, str]]:
    lengths: dict[str, int] = {}
    lines: list[ChainLine] = []
    snapshots: dict[str, str] = {}
    with suppress(sqlite3.Error), closing(sqlite3.connect(path)) as connection:
        connection.text_factory = lambda raw: raw.decode(errors="replace")
        connection.execute("PRAGMA writable_schema = ON")  # reads on when the file is shorter than it says
        for chain, length in _until_damage(connection, _LENGTHS):
            lengths[str(chain)] = int(str(length))
        for order in ("ASC", "DESC"):
            query = f"SELECT text, digest FROM line ORDER BY chain {order}, sequence {order}"  # noqa: S608 - two constants
            for text, kept in _until_damage(connection, query):
                with suppress(RecordError):
                    line = read_line(str(text))
                    if line.digest == kept:
                        lines.append(line)
        for sha256, text in _until_damage(connection, "SELECT sha256, text FROM snapshot NOT INDEXED"):
            if digest(str(text)) == sha256:
                snapshots[str(sha256)] = str(text)
    return lengths, lines, snapshots


def _until_damage(connection: sqlite3.Connection, query: str) -> Iterator[tuple[object, object]]:
    with suppress(sqlite3.Error):
        yield from connection.execute(query)


def _salvaged(chain: str, pool: Mapping[tuple[int, str], ChainLine], length: int | None) -> Salvaged:
    lines: list[ChainLine] = []
    before = START
    while (line := pool.get((len(lines), before))) is not None:
        lines.append(line)
        before = line.digest
    return Salvaged(chain, tuple(lines), _fault(len(lines), {sequence for sequence, _ in pool}, length))


def _fault(count: int, found: Collection[int], length: int | None) -> str | None:
    later = sum(sequence >= count for sequence in found)
    if count == 0:
        return f"its header is lost or changed; {later} later lines were found that prove nothing without it"
    if later:
        return f"line {count} is lost or changed; {later} later lines were found that do not follow"
    if length is None:
        return f"nothing follows line {count - 1}; whether there was more cannot be told"
    if count < length:
        return f"line {count} is lost or changed; the record had {length - 1} lines after its header"
    return None
