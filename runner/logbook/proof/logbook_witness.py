"""Witnesses: what a report keeps of a logbook outside of it, so that no last record vanishes unseen."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Self

from runner.errors import UsageError
from runner.logbook.proof.link import KIND
from runner.logbook.proof.link_audit import Links
from runner.logbook.proof.signature import PREFIX, own_key, read_public
from runner.logbook.record.record_shelf import Shelf


@dataclass(frozen=True, slots=True)
class Witness:
    """The end of a logbook's links as it was once, and whose key signs there."""

    link: int | None = None
    """The number of the last link; None when only the key is known."""
    digest: str = ""
    """Its hash."""
    public: str | None = None
    """The public key; None when nothing is signed."""

    @classmethod
    def read(cls, words: str) -> Self:
        """A public key, a file with one, or a report as JSON; UsageError when it is none of these."""
        if words.startswith(PREFIX):
            read_public(words)
            return cls(public=words)
        try:
            text = Path(words).read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError, ValueError):
            raise UsageError(
                f'cannot read "{words}"; give a public key ({PREFIX}...), a file with one, '
                "or a report made with --json"
            ) from None
        if not text.lstrip().startswith("{"):
            read_public(text)
            return cls(public=text.strip())
        return cls._of_report(words, text)

    @classmethod
    def _of_report(cls, path: str, text: str) -> Self:
        try:
            found = json.loads(text)["logbook"]
            link, digest, public = found["link"], found["sha256"], found["key"]
        except (ValueError, KeyError, TypeError, RecursionError):
            raise UsageError(
                f'{path} is no report of this version: it has no "logbook" with its link'
            ) from None
        if type(link) is not int or not isinstance(digest, str) or not isinstance(public, (str, type(None))):
            raise UsageError(f'{path}: its "logbook" has values of a wrong type')
        return cls(link, digest, public)

    def as_json(self) -> Mapping[str, Any]:
        """For a report."""
        return {"link": self.link, "sha256": self.digest, "key": self.public}

    def words(self) -> str:
        """One line for a report; empty when there is nothing to keep."""
        if self.link is None:
            return ""
        signed = f", signed by {self.public}" if self.public else ", not signed"
        return f"logbook at link {self.link}, SHA-256 {self.digest}{signed}"


def witness_of(shelf: Shelf) -> Witness:
    """What a report made now is to keep; nothing of a logbook without links, nor of a school's."""
    rows = shelf.rows(
        "SELECT c.length, c.digest FROM chain c WHERE c.kind = ? ORDER BY c.number LIMIT 1", (KIND,)
    )
    if not rows:
        return Witness()
    key = own_key()
    return Witness(rows[0][0] - 1, str(rows[0][1]), None if key is None else key.public)


def witness_faults(links: Links | None, witness: Witness) -> Iterator[str]:
    """Where the links no longer hold what the witness saw."""
    if witness.link is None:
        return
    lines = () if links is None else links.reading.lines
    if witness.link >= len(lines):
        yield (
            f"the report saw link {witness.link}, but the links end at {len(lines) - 1}: "
            "records made before that report are gone"
        )
    elif lines[witness.link].digest != witness.digest:
        yield f"link {witness.link} is not the one that the report saw: records made before it were changed"
