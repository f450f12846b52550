"""The scribe: puts entries on disk from a thread of its own, so that a disk that hangs cannot hold a run."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Final

from runner.core.record.entry import Entry
from runner.errors import RecordError
from runner.session.live.attendant import CLOSE_SECONDS, reason_of
from runner.voice.card.audio_clock import Timekeeper

LIMIT_SECONDS: Final = 12.0
"""SQLite itself waits 10 s for another program that is writing, and then says so."""


class Scribe:
    """Appends one entry at a time and waits for it: an entry that is not on disk is never spoken about."""

    def __init__(self, append: Callable[[Entry], None], clock: Timekeeper) -> None:
        self._append, self._clock = append, clock
        self._thread: threading.Thread | None = None

    def append(self, entry: Entry) -> None:
        """On disk when this returns; RecordError when it could not be written, or not in time."""
        failures: list[Exception] = []
        is_done = threading.Event()

        def write() -> None:
            try:
                self._append(entry)
            except Exception as error:  # noqa: BLE001 - raised below, on the thread that asked
                failures.append(error)
            is_done.set()

        self._thread = threading.Thread(target=write, name="record", daemon=True)
        self._thread.start()
        if not self._clock.wait(is_done, self._clock.now() + LIMIT_SECONDS):
            raise RecordError(f"the record could not be written within {LIMIT_SECONDS:g} s; check the disk")
        for error in failures:
            if isinstance(error, RecordError):
                raise error
            raise RecordError(f"the record could not be written ({reason_of(error)})") from error

    def close(self) -> bool:
        """Wait for what is being written; False when it hangs."""
        if self._thread is None:
            return True
        self._thread.join(CLOSE_SECONDS)
        return not self._thread.is_alive()
