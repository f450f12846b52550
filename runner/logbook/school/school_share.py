"""Shares of a large logbook, each proven in a process of its own, all of them in the same state of it."""

import gc
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Final, TextIO

from runner.logbook.proof.swift import Swift
from runner.logbook.record.still import FINGERPRINT, Still, open_still

LARGE: Final = 100_000_000
"""Bytes of a logbook from which on two processes share the work."""
WORKERS: Final = 2
_PROGRAM: Final = (
    "import sys; from runner.logbook.school.school_share import serve; serve(sys.stdin, sys.stdout)"
)

Span = tuple[int, int]
Process = subprocess.Popen[str]


@dataclass(slots=True)
class Workers:
    """Processes that are ready to begin at once; none for a small logbook."""

    processes: tuple[Process, ...] = ()
    spans: tuple[Span, ...] = ()

    def begin(self, still: Still) -> None:
        """Give each process its share of the logbook as it is now."""
        fingerprint = still.fingerprint()
        numbers = [row[0] for row in still.rows("SELECT number FROM chain ORDER BY number")]
        if not numbers:
            return
        count = max(1, len(self.processes))
        ends = [numbers[0] - 1, *(numbers[len(numbers) * n // count - 1] for n in range(1, count + 1))]
        self.spans = tuple((low + 1, high) for low, high in pairwise(ends))
        for process, span in zip(self.processes, self.spans, strict=False):
            _write(process, [still.address, span, fingerprint])

    def doubtful(self, still: Still) -> list[int]:
        """Numbers of the runs that none could prove; a share that came too late is done here."""
        found: list[int] = []
        answers = [_read(process) for process in self.processes] or [None] * len(self.spans)
        for span, answer in zip(self.spans, answers, strict=False):
            found += answer if isinstance(answer, list) else _prove(still, span)
        return found


def _write(process: Process, value: object) -> None:
    if process.stdin is not None:
        with suppress(OSError):
            process.stdin.write(json.dumps(value) + "\n")
            process.stdin.flush()


def _read(process: Process) -> object:
    """What the process said; None when it is gone."""
    line = "" if process.stdout is None else process.stdout.readline()
    return json.loads(line) if line else None


def _prove(still: Still, span: Span) -> list[int]:
    with still.strict_text():
        return Swift(still.connection).doubtful(*span)


@contextmanager
def workers_for(path: Path) -> Iterator[Workers]:
    """Workers that wait for `begin`, if the file is large and there are processors for them."""
    size = path.stat().st_size if path.exists() else 0
    if size < LARGE or (os.cpu_count() or 1) < WORKERS:
        yield Workers()
        return
    started = tuple(_start() for _ in range(WORKERS))
    try:
        yield Workers(tuple(process for process in started if _read(process)))
    finally:
        for process in started:
            process.kill()
            process.communicate()


def _start() -> Process:
    return subprocess.Popen(  # noqa: S603 - this interpreter, and a text of our own
        [sys.executable, "-c", _PROGRAM],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
    )


def serve(asked: TextIO, out: TextIO) -> None:
    """In the other process: say so when everything is loaded, then do one share."""
    out.write("true\n")
    out.flush()
    if line := asked.readline():
        address, span, fingerprint = json.loads(line)
        out.write(json.dumps(_share(address, tuple(span), tuple(fingerprint))) + "\n")
        out.flush()


def _share(address: str, span: Span, fingerprint: tuple[object, ...]) -> list[int] | None:
    """The doubtful runs of a share; None when the logbook has grown since the share was given."""
    gc.disable()  # nothing here refers to itself, and there are millions of rows
    connection = open_still(address)
    try:
        connection.text_factory = str
        now = connection.execute(FINGERPRINT).fetchone()
        return Swift(connection).doubtful(*span) if now == fingerprint else None
    finally:
        connection.close()
        gc.enable()
