"""Reads exported JSON Lines back into a logbook: all of a file, or nothing and the place of what is wrong."""

import base64
import json
import sqlite3
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from runner.errors import RecordError
from runner.logbook.carry.chain_intake import check_meaning, kind_of, take_in_chain
from runner.logbook.carry.run_export import FIRST
from runner.logbook.record.chain import ChainLine, canonical, fault_between, read_line
from runner.logbook.record.clip_file import clip_name, keep_clip
from runner.logbook.record.header import KIND, read_header
from runner.logbook.record.ledger import add_snapshot
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.record.run_store import Logbook


@dataclass(frozen=True, slots=True)
class Intake:
    """What an import brought."""

    chains: int
    """Chains in the file."""
    lines: int
    """Lines of chains in the file."""
    new_lines: int
    """Lines that the logbook did not have."""


Judge = Callable[[Shelf, Sequence[ChainLine]], None]
"""RecordError when a whole run cannot be used; its files' texts are on the shelf by then."""


def intake(logbook: Logbook, path: Path, judge: Judge = lambda _, __: None) -> Intake:
    """Import what `eyesout export` wrote; RecordError `file:line: why` leaves the logbook alone."""
    try:
        with path.open(encoding="utf-8", newline="\n") as file, logbook.writing() as connection:
            return _IntakeReader(logbook, connection, path, judge).read(file)
    except OSError as error:
        raise RecordError(f"{path}: {error.strerror}") from None
    except UnicodeDecodeError as error:
        raise RecordError(f"{path}: not UTF-8 text: {error.reason}") from None


@dataclass(slots=True)
class _IntakeReader:
    """One pass over one file."""

    logbook: Logbook
    connection: sqlite3.Connection
    path: Path
    judge: Judge
    number: int = 0
    names: set[str] = field(default_factory=set)
    clips: dict[str, bytes] = field(default_factory=dict)
    pending: list[ChainLine] = field(default_factory=list)
    pending_from: int = 0
    chains: int = 0
    lines: int = 0
    new_lines: int = 0
    has_ended: bool = False

    def read(self, file: Iterable[str]) -> Intake:
        """Take the lines one by one; the first must say what the file is, the last how much there was."""
        for number, raw in enumerate(file, start=1):
            self.number = number
            try:
                self._check_place(raw)
                if number > 1:
                    self._take(json.loads(raw))
            except (RecordError, ValueError, RecursionError, OverflowError) as error:
                raise RecordError(f"{self.path}:{self.number}: {error}") from None
        if not self.has_ended:
            raise RecordError(f"{self.path}:{self.number + 1}: the file ends early; export it again")
        for name, content in self.clips.items():
            keep_clip(self.logbook.clips, content, Path(name).suffix)
        return Intake(self.chains, self.lines, self.new_lines)

    def _check_place(self, raw: str) -> None:
        if self.number == 1 and raw.rstrip("\n") != FIRST:
            raise RecordError("not an export of a logbook that this eyesout knows")
        if self.has_ended:
            raise RecordError("there is more after the last line")

    def _take(self, value: object) -> None:
        match value:
            case {"line": dict(line), "digest": str(kept), **rest} if not rest:
                self._take_line(line, kept)
            case {"snapshot": str(name), "text": str(text), **rest} if not rest:
                self._keep(name, add_snapshot(self.connection, text))
            case {"clip": str(name), "base64": str(content), **rest} if not rest:
                self._keep(name, self._hold_clip(name, content))
            case {"lost": str(name), **rest} if not rest:
                self.names.add(name)
            case {"end": int(count), **rest} if not rest:
                self._finish(count)
            case _:
                raise RecordError("not a line of an export")

    def _keep(self, name: str, proven: str) -> None:
        if name != proven:
            raise RecordError(f"the content of {name[:12]} was changed after it was recorded")
        self.names.add(name)

    def _hold_clip(self, name: str, content: str) -> str:
        self.clips[name] = base64.b64decode(content, validate=True)
        return clip_name(self.clips[name], Path(name).suffix)

    def _take_line(self, value: dict[str, Any], kept: str) -> None:
        line = read_line(canonical(value))
        if line.sequence == 0:
            self._take_in_pending()
            self.pending_from = self.number
        before = self.pending[-1] if self.pending else None
        fault = fault_between(before, line)
        if fault is None and line.digest != kept:
            fault = f"{line.chain} line {line.sequence} does not match its hash; it was changed"
        if fault is not None:
            raise RecordError(fault)
        kind = kind_of(self.pending[0] if self.pending else line)
        check_meaning(line, kind)
        self._require_attachments(line, kind)
        self.pending.append(line)
        self.lines += 1

    def _require_attachments(self, line: ChainLine, kind: str) -> None:
        needed = [str(line.body["clip"])] if line.body.get("clip") else []
        if line.sequence == 0 and kind == KIND:
            header = read_header(line.body)
            needed += [header.check_sha256, header.airplane_sha256]
        missing = [name for name in needed if name not in self.names]
        if missing:
            raise RecordError(f"the content of {missing[0][:12]} is missing in the file before this line")

    def _take_in_pending(self) -> None:
        if not self.pending:
            return
        number, self.number = self.number, self.pending_from
        if self.pending[0].body.get("kind") == KIND:
            self.judge(self.logbook, self.pending)
        self.new_lines += take_in_chain(self.connection, self.logbook, self.pending)
        self.number = number
        self.chains += 1
        self.pending = []

    def _finish(self, count: int) -> None:
        self._take_in_pending()
        if count != self.lines:
            raise RecordError(f"{count} lines were exported, but {self.lines} are here")
        self.has_ended = True
