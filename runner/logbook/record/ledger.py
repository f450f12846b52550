"""Writing chains into the SQLite file, always inside the caller's transaction."""

import sqlite3
from collections.abc import Mapping, Sequence
from typing import Any

from runner.errors import RecordError
from runner.logbook.record.chain import ChainLine, digest, header_line


def start_chain(connection: sqlite3.Connection, chain: str, kind: str, body: Mapping[str, Any]) -> int:
    """Begin a chain with its header; gives the chain's number in this file."""
    return add_header(connection, kind, header_line(chain, body))


def add_header(connection: sqlite3.Connection, kind: str, line: ChainLine) -> int:
    """Store a header that was made here or elsewhere; gives the chain's number in this file."""
    number = connection.execute(
        "INSERT INTO chain (id, kind, length, digest) VALUES (?, ?, 1, ?) RETURNING number",
        (line.chain, kind, line.digest),
    ).fetchone()[0]
    connection.execute("INSERT INTO line VALUES (?, 0, ?, ?)", (number, line.text, line.digest))
    return int(number)


def add_line(connection: sqlite3.Connection, number: int, line: ChainLine) -> None:
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


def add_chain(connection: sqlite3.Connection, kind: str, lines: Sequence[ChainLine]) -> int:
    """Store a whole chain that is not here yet; gives its number in this file."""
    number = add_header(connection, kind, lines[0])
    connection.executemany(
        "INSERT INTO line VALUES (?, ?, ?, ?)",
        [(number, line.sequence, line.text, line.digest) for line in lines[1:]],
    )
    connection.execute(
        "UPDATE chain SET length = ?, digest = ? WHERE number = ?", (len(lines), lines[-1].digest, number)
    )
    return number


def add_snapshot(connection: sqlite3.Connection, text: str) -> str:
    """Keep a file's exact text, once; gives its SHA-256."""
    sha256 = digest(text)
    connection.execute("INSERT OR IGNORE INTO snapshot VALUES (?, ?)", (sha256, text))
    return sha256
