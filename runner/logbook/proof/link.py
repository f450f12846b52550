"""Links: one chain over the records of a logbook, so that a run that vanishes, shrinks or is rewritten shows.

Each of its lines says how long a record was at a moment and by which hash it ended, and carries the hash of
the link before. A logbook of layout 1 has none; its records are linked from the next one on, and the header
of the links says how many older ones there were, with a hash over their headers.
"""

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final, Self

from runner.logbook.proof.signature import own_key
from runner.logbook.record.chain import ChainLine, canonical, digest, next_line, read_line
from runner.logbook.record.database import VERSION
from runner.logbook.record.ledger import add_line, start_chain

KIND: Final = "links"
LINKED: Final = "linked"
SIGNED: Final = "signed"

OLDER: Final = (
    "SELECT c.id, c.kind, l.digest FROM chain c JOIN line l ON l.chain = c.number AND l.sequence = 0 "
    "WHERE c.number < ? ORDER BY c.number"
)
"""The headers of the records with lower numbers than some."""
_NO_END: Final = 2**62


class LinkCause(StrEnum):
    """Why a record was linked."""

    BEGUN = "begun"
    LEFT = "left"
    REOPENED = "reopened"
    ENDED = "ended"
    FILED = "filed"
    TAKEN_IN = "taken in"


@dataclass(frozen=True, slots=True)
class RecordLink:
    """What one line of the links says of a record."""

    number: int
    """The line's own number among the links."""
    chain: str
    of: str
    """The kind of the record."""
    length: int
    """How many lines it had, header included."""
    digest: str
    """The hash of the last of them."""
    cause: str

    @classmethod
    def read(cls, line: ChainLine) -> Self | None:
        """The link that a line holds; None when it is none, such as a signature."""
        body = line.body
        if body.get("kind") != LINKED:
            return None
        given = [body.get(name) for name in ("chain", "of", "length", "digest", "cause")]
        if [type(value) for value in given] != [str, str, int, str, str]:
            return None
        return cls(line.sequence, *given)  # type: ignore[arg-type] # checked one line above


def add_links(connection: sqlite3.Connection, kind: str, ends: Iterable[ChainLine], cause: LinkCause) -> None:
    """Link the records that end with these lines, signed if there is a key, in the caller's transaction."""
    last, number = _last(connection)
    for end in ends:
        body = {
            "kind": LINKED,
            "chain": end.chain,
            "of": kind,
            "length": end.sequence + 1,
            "digest": end.digest,
            "cause": cause.value,
        }
        last = next_line(last, body)
        add_line(connection, number, last)
    key = own_key()
    if key is not None:
        body = {"kind": SIGNED, "key": key.public, "signature": key.sign(last.digest)}
        add_line(connection, number, next_line(last, body))


def begin_links(connection: sqlite3.Connection) -> int:
    """Begin the chain of links in the caller's transaction; gives its number in this file."""
    writer = connection.execute("SELECT value FROM setting WHERE name = 'writer'").fetchone()[0]
    older = connection.execute(OLDER, (_NO_END,)).fetchall()
    body = {"kind": KIND, "writer": writer, "older": len(older), "older_digest": older_digest(older)}
    connection.execute(f"PRAGMA user_version = {VERSION}")
    return start_chain(connection, links_name(writer), KIND, body)


def links_name(writer: str) -> str:
    """The chain's id: no run's and no maintenance chain's looks so."""
    return f"{KIND}/{writer}"


def older_digest(rows: Sequence[Sequence[object]]) -> str:
    """One hash over (id, kind, header's hash) of the records from before the links, in their order."""
    return digest(canonical([list(row) for row in rows]))


def _last(connection: sqlite3.Connection) -> tuple[ChainLine, int]:
    query = (
        "SELECT l.text, c.number FROM chain c "
        "JOIN line l ON l.chain = c.number AND l.sequence = c.length - 1 WHERE c.kind = ?"
    )
    found = connection.execute(query, (KIND,)).fetchone()
    if found is None:
        begin_links(connection)
        found = connection.execute(query, (KIND,)).fetchone()
    return read_line(found[0]), int(found[1])
