"""The store of all runs: create one, append to it entry by entry, read it back; nothing is rewritten."""

import sqlite3
import threading
import uuid
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self

from runner.core.record.answer_history import end_in
from runner.core.record.codec import to_json
from runner.core.record.entry import Entry
from runner.errors import RecordError
from runner.logbook.proof.link import LinkCause, add_links, begin_links
from runner.logbook.record.chain import ChainLine, digest, header_line, next_line
from runner.logbook.record.database import as_record_error, connect, lay_out, make_folder, transaction
from runner.logbook.record.header import KIND, RunHeader, header_body, run_id
from runner.logbook.record.ledger import add_line, add_snapshot, start_chain
from runner.logbook.record.lock import RunLock
from runner.logbook.record.record import (
    Snapshots,
    entries_of,
    find_chain,
    header_of,
    read_whole,
    run_chain,
    snapshots_of,
)
from runner.logbook.record.summary_table import add_entry, add_run
from runner.logbook.record.writeahead import WriteAhead

FILE: Final = "logbook.sqlite"
"""The database inside a logbook's folder."""

CLOSE_SECONDS: Final = 12.0
"""Longer than SQLite waits for another program that is writing."""


class RunHandle:
    """A run that is open for writing in this process, and in no other."""

    def __init__(
        self, logbook: "Logbook", header: RunHeader, number: int, last: ChainLine, lock: RunLock
    ) -> None:
        self.run = header.run
        self.header = header
        self._logbook = logbook
        self._number = number
        self._last = last
        self._lock = lock
        self._has_ended = False
        self._is_linked = True

    def append(self, entry: Entry) -> None:
        """Put one entry on disk: it is there when this returns. RecordError when it is not."""
        if self._has_ended:
            raise RecordError(f"run {self.run} has ended; nothing can be added to it")
        line = next_line(self._last, to_json(entry))
        with self._logbook.writing() as connection:
            add_line(connection, self._number, line)
            add_entry(connection, self._number, self.header, entry)
            if end_in(entry) is not None:
                add_links(connection, KIND, [line], LinkCause.ENDED)
        self._last = line
        self._has_ended = end_in(entry) is not None
        self._is_linked = self._has_ended

    @property
    def started_at(self) -> float:
        """When the run began, seconds since the epoch."""
        return self.header.started_at

    @property
    def digest(self) -> str:
        """The hash of the record so far."""
        return self._last.digest

    def close(self) -> None:
        """Let others open the run."""
        if not self._is_linked:
            with (
                suppress(RecordError),
                self._logbook.writing() as connection,
            ):  # nothing recorded depends on it
                add_links(connection, KIND, [self._last], LinkCause.LEFT)
                self._is_linked = True
        self._lock.release(is_final=self._has_ended)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


class Logbook:
    """One logbook: a folder with the database, the clips, and the locks of open runs.

    Safe to use from several threads and several processes. It is a Shelf.
    """

    def __init__(self, folder: Path, connection: sqlite3.Connection) -> None:
        self.notices: tuple[str, ...] = ()
        """What the pilot should be told about the file, one line each."""
        self.folder = folder
        self.path = folder / FILE
        self._connection = connection
        self._turn = threading.RLock()
        self.writer = self._own_name()

    @classmethod
    def open(cls, folder: Path) -> Self:
        """Open the logbook in a folder, making it when there is none; RecordError when it is unfit."""
        make_folder(folder)
        pending = WriteAhead.read(folder / FILE)
        logbook = cls(folder, connect(folder / FILE, lay_out))
        with logbook.writing():
            logbook.notices = pending.set_aside(logbook)
        return logbook

    def _own_name(self) -> str:
        rows = self.rows("SELECT value FROM setting WHERE name = 'writer'")
        if rows:
            return str(rows[0][0])
        with self.writing() as connection:
            name = uuid.uuid4().hex[:12]
            connection.execute("INSERT OR IGNORE INTO setting VALUES ('writer', ?)", (name,))
            if not connection.execute("SELECT 1 FROM chain LIMIT 1").fetchone():
                begin_links(connection)
        return self._own_name()

    @property
    def clips(self) -> Path:
        """The folder of the notes' sound clips."""
        return self.folder / "clips"

    @property
    def place(self) -> str:
        """The file's path, for messages."""
        return str(self.path)

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """A transaction: all of it is on disk when it ends, or none; RecordError when SQLite refuses."""
        with self._turn, as_record_error(self.path), transaction(self._connection):
            yield self._connection

    def rows(self, query: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        """All rows of a query; RecordError when the file is damaged."""
        with self._turn, as_record_error(self.path):
            return self._connection.execute(query, parameters).fetchall()

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
        made_with: str = "",
    ) -> RunHandle:
        """Begin a run and open it for writing. The texts are the files' exact contents.

        `series` names, for an item, the series that its value belongs to where that is not the item itself
        (a spin-up item's gyro). `started_at` is seconds since the epoch, `made_with` names tool and ear.
        """
        header = RunHeader(
            run=self._new_id(started_at, airplane or check),
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
            made_with=made_with,
        )
        with self._locked(header.run) as lock:
            with self.writing() as connection:
                for text in (check_text, airplane_text):
                    add_snapshot(connection, text)
                number = start_chain(connection, header.run, KIND, header_body(header))
                add_run(connection, number, header)
                add_links(connection, KIND, [header_line(header.run, header_body(header))], LinkCause.BEGUN)
            return self._handle(header, lock)

    def _new_id(self, started_at: float, about: str) -> str:
        while find_chain(self, run := run_id(started_at, about)) is not None:
            pass
        return run

    def resume(self, run: str) -> RunHandle:
        """Open an unfinished run for writing; refused when it has ended, is damaged, or is open elsewhere."""
        number = run_chain(self, run).number
        if not self.rows("SELECT 1 FROM run WHERE number = ?", (number,)):
            raise RecordError(f"run {run} was set aside; `eyesout import --take-back {run}` puts it back")
        with self._locked(run) as lock:
            return self._handle(header_of(self, run), lock)

    @contextmanager
    def _locked(self, run: str) -> Iterator[RunLock]:
        lock = RunLock(self.folder / "open", run)
        try:
            yield lock
        except BaseException:
            lock.release()
            raise

    def _handle(self, header: RunHeader, lock: RunLock) -> RunHandle:
        entries = self.entries(header.run)
        if entries and end_in(entries[-1]) is not None:
            raise RecordError(f"run {header.run} has ended; start a new one")
        chain = run_chain(self, header.run)
        last = read_whole(self, chain).lines[-1]
        if len(entries):
            with self.writing() as connection:
                add_links(connection, KIND, [last], LinkCause.REOPENED)
        return RunHandle(self, header, chain.number, last, lock)

    def header(self, run: str) -> RunHeader:
        """What the run was made with."""
        return header_of(self, run)

    def entries(self, run: str) -> tuple[Entry, ...]:
        """All entries of a whole run; RecordError names the place where a damaged one breaks."""
        return entries_of(self, run)

    def snapshots(self, run: str) -> Snapshots:
        """The check and airplane texts that the run was made with."""
        return snapshots_of(self, run)

    def close(self) -> None:
        """Close the file; a write that hangs keeps it, and the system closes it with the program."""
        if self._turn.acquire(timeout=CLOSE_SECONDS):
            try:
                self._connection.close()
            finally:
                self._turn.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
