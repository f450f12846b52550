"""Chains on disk: start one, add a line to it, read it back."""

import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from runner.errors import RecordError
from runner.logbook.chain import Line, Reading, header_line, next_line, read_chain, read_line


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


def chains(connection: sqlite3.Connection, *, kind: str | None = None) -> Iterator[Chain]:
    """All chains in the order in which they came into this logbook."""
    rows = connection.execute(
        "SELECT number, id, kind, length, digest FROM chain WHERE ?1 IS NULL OR kind = ?1 ORDER BY number",
        (kind,),
    )
    return (Chain(*row) for row in rows)


def find_chain(connection: sqlite3.Connection, chain: str) -> Chain | None:
    """The chain of that id, if the logbook has it."""
    row = connection.execute(
        "SELECT number, id, kind, length, digest FROM chain WHERE id = ?", (chain,)
    ).fetchone()
    return None if row is None else Chain(*row)


def stored_lines(connection: sqlite3.Connection, number: int) -> Iterator[tuple[int, str, str]]:
    """(sequence, text, hash) of each line of a chain, unchecked."""
    return connection.execute(
        "SELECT sequence, text, digest FROM line WHERE chain = ? ORDER BY sequence", (number,)
    )


def read_whole(connection: sqlite3.Connection, chain: Chain) -> Reading:
    """Read a chain as far as it is whole; lines missing at its end are a fault as well."""
    reading = read_chain(stored_lines(connection, chain.number))
    if reading.fault is None and (
        len(reading.lines) != chain.length or reading.lines[-1].digest != chain.digest
    ):
        return Reading(
            reading.lines,
            f"the chain ends at line {reading.lines[-1].sequence}, "
            f"but {chain.length - 1} lines were recorded after the header",
        )
    return reading


def start_chain(connection: sqlite3.Connection, chain: str, kind: str, body: Mapping[str, Any]) -> Line:
    """Begin a chain with its header, inside the caller's transaction."""
    line = header_line(chain, body)
    add_chain(connection, kind, line)
    return line


def add_chain(connection: sqlite3.Connection, kind: str, line: Line) -> int:
    """Store a header that was made before (here or elsewhere); gives the chain's number in this file."""
    cursor = connection.execute(
        "INSERT INTO chain (id, kind, length, digest) VALUES (?, ?, 1, ?)", (line.chain, kind, line.digest)
    )
    number = cursor.lastrowid
    if number is None:
        raise RecordError(f"chain {line.chain} got no number")
    connection.execute("INSERT INTO line VALUES (?, ?, ?, ?)", (number, 0, line.text, line.digest))
    return number


def add_line(connection: sqlite3.Connection, number: int, line: Line) -> None:
    """Store the next line of a chain; RecordError when the chain has grown in between."""
    grown = connection.execute(
        "UPDATE chain SET length = ?, digest = ? WHERE number = ? AND length = ? AND digest = ?",
        (line.sequence + 1, line.digest, number, line.sequence, line.previous),
    ).rowcount
    if grown != 1:
        raise RecordError(f"{line.chain} was written by something else since it was opened; open it again")
    connection.execute(
        "INSERT INTO line VALUES (?, ?, ?, ?)", (number, line.sequence, line.text, line.digest)
    )


def last_line(connection: sqlite3.Connection, chain: Chain) -> Line:
    """The line that a next one would follow."""
    row = connection.execute(
        "SELECT text FROM line WHERE chain = ? ORDER BY sequence DESC LIMIT 1", (chain.number,)
    ).fetchone()
    if row is None:
        raise RecordError(f"{chain.id} has no lines; `eyesout verify` says more")
    return read_line(row[0])


def extend(connection: sqlite3.Connection, chain: Chain, body: Mapping[str, Any]) -> Line:
    """Write the next line of a chain, inside the caller's transaction."""
    line = next_line(last_line(connection, chain), body)
    add_line(connection, chain.number, line)
    return line
