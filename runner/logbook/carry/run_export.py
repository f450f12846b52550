"""A run or a whole logbook as JSON Lines: the chains' lines as stored, their files' texts, their clips.

The first line says what the file is, the last how many lines the chains have, so that a file cut short shows.
Anyone can check a chain with a JSON tool and SHA-256: a line's digest is the hash of its text.
"""

import base64
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Final, Protocol

from runner.errors import RecordError
from runner.logbook.proof.recover import Salvage
from runner.logbook.record.chain import ChainLine, canonical
from runner.logbook.record.clip_file import is_clip, read_clip
from runner.logbook.record.header import KIND, read_header
from runner.logbook.record.record import chains, read_whole, run_chain, snapshot_text
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.squawk.maintenance_record import KIND as MAINTENANCE
from runner.logbook.squawk.maintenance_record import chains_about

FORMAT: Final = 1

FIRST: Final = canonical({"eyesout": "logbook", "format": FORMAT})


class Attachments(Protocol):
    """Where the texts and clips that a record names are found; RecordError when one is not."""

    def text(self, sha256: str) -> str:
        """A check or airplane file's text."""
        ...

    def clip(self, name: str) -> bytes:
        """A note's sound."""
        ...


class KeptFiles:
    """The attachments of a shelf, with the clips in a folder."""

    def __init__(self, shelf: Shelf, clips: Path) -> None:
        self._shelf = shelf
        self._clips = clips

    def text(self, sha256: str) -> str:
        """Out of the snapshot table."""
        return snapshot_text(self._shelf, sha256)

    def clip(self, name: str) -> bytes:
        """Out of the folder."""
        return read_clip(self._clips, name)


class Rescued:
    """The attachments that are left of a damaged logbook."""

    def __init__(self, found: Salvage, clips: Path) -> None:
        self._found = found
        self._clips = clips

    def text(self, sha256: str) -> str:
        """Out of what was salvaged."""
        if sha256 not in self._found.snapshots:
            raise RecordError(f"the file text {sha256[:12]} is lost")
        return self._found.snapshots[sha256]

    def clip(self, name: str) -> bytes:
        """Out of the folder."""
        return read_clip(self._clips, name)


def export(shelf: Shelf, attachments: Attachments, runs: Sequence[str] | None = None) -> Iterator[str]:
    """The JSON lines of these runs with what was recorded about their squawks, or of everything.

    RecordError at a chain that is not whole, and at an attachment that is missing or changed.
    """
    yield from _package(_chosen(shelf, runs), attachments, may_lose=False)


def export_salvage(found: Salvage, attachments: Attachments) -> Iterator[str]:
    """The JSON lines of a damaged logbook: each chain up to where it breaks, lost attachments marked so."""
    yield from _package((one.lines for one in found.chains if one.lines), attachments, may_lose=True)


def _chosen(shelf: Shelf, runs: Sequence[str] | None) -> Iterator[Sequence[ChainLine]]:
    if runs is None:
        wanted = (*chains(shelf, KIND), *chains(shelf, MAINTENANCE))
    else:
        wanted = tuple(chain for run in runs for chain in (run_chain(shelf, run), *chains_about(shelf, run)))
    for chain in wanted:
        reading = read_whole(shelf, chain)
        if reading.fault is not None:
            raise RecordError(f"{chain.id}: {reading.fault}; `eyesout export --salvage` writes what is whole")
        yield reading.lines


def _package(
    records: Iterable[Sequence[ChainLine]], attachments: Attachments, *, may_lose: bool
) -> Iterator[str]:
    yield FIRST
    seen: set[str] = set()
    count = 0
    for lines in records:
        for name in named_in(lines):
            if name not in seen:
                seen.add(name)
                yield _attachment(name, attachments, may_lose=may_lose)
        for line in lines:
            count += 1
            yield f'{{"digest":"{line.digest}","line":{line.text}}}'
    yield canonical({"end": count})


def named_in(lines: Sequence[ChainLine]) -> Iterator[str]:
    """The attachments that a chain names: its files' texts by SHA-256, its clips by name."""
    if lines[0].body.get("kind") == KIND:
        header = read_header(lines[0].body)
        yield header.check_sha256
        yield header.airplane_sha256
    for line in lines[1:]:
        if line.body.get("clip"):
            yield str(line.body["clip"])


def _attachment(name: str, attachments: Attachments, *, may_lose: bool) -> str:
    try:
        if is_clip(name):
            return canonical({"clip": name, "base64": base64.b64encode(attachments.clip(name)).decode()})
        return canonical({"snapshot": name, "text": attachments.text(name)})
    except RecordError:
        if not may_lose:
            raise
        return canonical({"lost": name})
