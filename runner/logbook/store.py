"""The store of all runs: create one, append to it entry by entry, read it back; nothing is rewritten."""

import sqlite3
import threading
import uuid
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Final, Self

from runner.core.codec import from_json, to_json
from runner.core.entry import Entry
from runner.errors import RecordError
from runner.logbook.chain import Line, Reading, digest, next_line, read_line
from runner.logbook.database import as_record_error, connect, transaction
from runner.logbook.header import KIND, RunHeader, header_body, read_header, run_id
from runner.logbook.ledger import Chain, add_line, find_chain, last_line, read_whole, start_chain
from runner.logbook.lock import RunLock
from runner.logbook.standing import end_in
from runner.logbook.summary import add_entry, add_run

FILE: Final = "logbook.sqlite"
"""The database inside a logbook's folder."""


@dataclass(frozen=True, slots=True)
class Snapshots:
    """The exact texts of the files that a run was made with."""

    check: str
    airplane: str


class RunHandle:
    """A run that is open for writing in this process, and in no other."""

    def __init__(self, logbook: "Logbook", header: RunHeader, chain: Chain, lock: RunLock) -> None:
        self.run = header.run
        self.header = header
        self._logbook = logbook
        self._number = chain.number
        self._lock = lock
        with logbook.reading() as connection:
            self._last: Line = last_line(connection, chain)
        self._has_ended = False

    def append(self, entry: Entry) -> None:
        """Put one entry on disk: it is there when this returns. RecordError when it is not."""
        if self._has_ended:
            raise RecordError(f"run {self.run} has ended; nothing can be added to it")
        line = next_line(self._last, to_json(entry))
        with self._logbook.writing() as connection:
            add_line(connection, self._number, line)
            add_entry(connection, self._number, self.header, entry)
        self._last = line
        self._has_ended = end_in(entry) is not None

    @property
    def digest(self) -> str:
        """The hash of the record so far."""
        return self._last.digest

    def close(self) -> None:
        """Let others open the run."""
        self._lock.release(is_final=self._has_ended)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


class Logbook:
    """One logbook: a folder with the database, the clips, and the locks of open runs.

    Safe to use from several threads and several processes.
    """

    def __init__(self, folder: Path, connection: sqlite3.Connection) -> None:
        self.folder = folder
        self.path = folder / FILE
        self._connection = connection
        self._turn = threading.RLock()
        self.writer = self._own_name()

    @classmethod
    def open(cls, folder: Path) -> Self:
        """Open the logbook in a folder, making it when there is none; RecordError when it is unfit."""
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise RecordError(f"logbook {folder}: {error.strerror}; name another folder") from None
        return cls(folder, connect(folder / FILE))

    @property
    def clips(self) -> Path:
        """The folder of the notes' sound clips."""
        return self.folder / "clips"

    def _own_name(self) -> str:
        with self.writing() as connection:
            connection.execute("INSERT OR IGNORE INTO setting VALUES ('writer', ?)", (uuid.uuid4().hex[:12],))
            return str(connection.execute("SELECT value FROM setting WHERE name = 'writer'").fetchone()[0])

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """A transaction: all of it is on disk when it ends, or none; RecordError when SQLite refuses."""
        with self._turn, as_record_error(self.path), transaction(self._connection):
            yield self._connection

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """The connection, for reading; RecordError when SQLite cannot."""
        with self._turn, as_record_error(self.path):
            yield self._connection

    def create_run(
        self,
        *,
        check: str,
        check_text: str,
        airplane: str,
        airplane_text: str,
        registration: str,
        pilot: str,
        started_at: float,
        oat_celsius: float | None = None,
        series: Mapping[str, str] | None = None,
        is_invented: bool = False,
    ) -> RunHandle:
        """Begin a run and open it for writing. The texts are the files' exact contents.

        `series` names, for an item, the series that its value belongs to where that is not the item itself
        (a spin-up item's gyro). `started_at` is seconds since the epoch.
        """
        header = RunHeader(
            run=run_id(started_at, airplane),
            started_at=started_at,
            check=check,
            airplane=airplane,
            registration=registration,
            pilot=pilot,
            oat_celsius=oat_celsius,
            check_sha256=digest(check_text),
            airplane_sha256=digest(airplane_text),
            series=dict(series or {}),
            is_invented=is_invented,
        )
        lock = RunLock(self.folder / "open", header.run)
        try:
            with self.writing() as connection:
                for text in (check_text, airplane_text):
                    add_snapshot(connection, text)
                start_chain(connection, header.run, KIND, header_body(header))
                chain = _require(connection, header.run)
                add_run(connection, chain.number, header)
            return RunHandle(self, header, chain, lock)
        except BaseException:
            lock.release(is_final=True)
            raise

    def resume(self, run: str) -> RunHandle:
        """Open an unfinished run for writing; refused when it has ended, is damaged, or is open elsewhere."""
        lock = RunLock(self.folder / "open", run)
        try:
            _refuse_ended(run, self.entries(run))
            with self.reading() as connection:
                chain = _require(connection, run)
            return RunHandle(self, self.header(run), chain, lock)
        except BaseException:
            lock.release()
            raise

    def header(self, run: str) -> RunHeader:
        """What the run was made with."""
        with self.reading() as connection:
            row = connection.execute(
                "SELECT text FROM line WHERE chain = ? AND sequence = 0", (_require(connection, run).number,)
            ).fetchone()
        if row is None:
            raise RecordError(f"run {run} has no header; `eyesout verify` says what can be read")
        return read_header(read_line(row[0]).body)

    def record(self, run: str) -> Reading:
        """The run's lines, as far as they are whole, and why they end there if they are not."""
        with self.reading() as connection:
            return read_whole(connection, _require(connection, run))

    def entries(self, run: str) -> tuple[Entry, ...]:
        """All entries of a whole run; RecordError names the place where a damaged one breaks."""
        reading = self.record(run)
        if reading.fault is not None:
            raise RecordError(f"run {run}: {reading.fault}; `eyesout verify` says what can be read")
        return entries_in(reading)

    def snapshots(self, run: str) -> Snapshots:
        """The check and airplane texts that the run was made with."""
        header = self.header(run)
        with self.reading() as connection:
            return Snapshots(
                read_snapshot(connection, header.check_sha256),
                read_snapshot(connection, header.airplane_sha256),
            )

    def close(self) -> None:
        """Close the file."""
        with self._turn:
            self._connection.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def entries_in(reading: Reading) -> tuple[Entry, ...]:
    """The entries of the whole part of a run's chain (the header left out)."""
    return tuple(from_json(line.body) for line in reading.lines[1:])


def _refuse_ended(run: str, entries: tuple[Entry, ...]) -> None:
    if entries and end_in(entries[-1]) is not None:
        raise RecordError(f"run {run} has ended; start a new one")


def add_snapshot(connection: sqlite3.Connection, text: str) -> str:
    """Keep a file's exact text; gives its SHA-256."""
    sha256 = digest(text)
    connection.execute("INSERT OR IGNORE INTO snapshot VALUES (?, ?)", (sha256, text))
    return sha256


def read_snapshot(connection: sqlite3.Connection, sha256: str) -> str:
    """The text with that hash; RecordError when it is missing or was changed."""
    row = connection.execute("SELECT text FROM snapshot WHERE sha256 = ?", (sha256,)).fetchone()
    if row is None:
        raise RecordError(f"the file text {sha256[:12]} is missing from the logbook")
    text = str(row[0])
    if digest(text) != sha256:
        raise RecordError(f"the file text {sha256[:12]} was changed after it was recorded")
    return text


def _require(connection: sqlite3.Connection, run: str) -> Chain:
    chain = find_chain(connection, run)
    if chain is None or chain.kind != KIND:
        raise RecordError(f'no run "{run}" in this logbook; `eyesout history` lists them')
    return chain
