"""The attendant: one thread that serves one port, so that neither its errors nor its hanging stop a run.

What fails or keeps the run waiting past its limit becomes an event; what comes after that is stale.
"""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from runner.core.event import Event, Port, PortBack, PortFailed
from runner.voice.card.audio_clock import Timekeeper

LIMIT_SECONDS: Final = 5.0
"""A call that takes longer is given up."""
CALM_SECONDS: Final = 3.0
"""A port serves again when a call comes back well so long after the last failure."""
MOST_LOSSES: Final = 5
"""After so many a port is not believed any more."""
CLOSE_SECONDS: Final = 2.0
"""So long a thread gets to come to its end."""
LONGEST_REASON: Final = 160

Finish = Callable[[], None]
Work = Callable[[], Finish | None]
"""Does what may fail or hang, and gives what is to be done if it came back in time."""


def reason_of(error: BaseException) -> str:
    """An error in one line without control characters, short enough for a screen."""
    words = "".join(letter if letter.isprintable() else " " for letter in f"{error}")
    name = type(error).__name__
    return f"{name}: {' '.join(words.split())}".removesuffix(": ")[:LONGEST_REASON]


@dataclass(slots=True, eq=False)
class _Call:
    """One thing to be done."""

    work: Work
    otherwise: Finish
    """What is done instead when it fails or is given up."""
    started_at: float | None = None
    is_given_up: bool = False


class Attendant:
    """Serves one port. `ask` and `look` return at once; only the attendant's thread waits for the port."""

    def __init__(
        self,
        port: Port,
        clock: Timekeeper,
        put: Callable[[Event], None],
        limit: float = LIMIT_SECONDS,
    ) -> None:
        self.port = port
        self.limit = limit
        self._clock, self._put = clock, put
        self._calls: queue.SimpleQueue[_Call | Finish | None] = queue.SimpleQueue()
        self._lock = threading.Lock()
        self._thread: threading.Thread | None = None
        self._running: _Call | None = None
        self._is_closing = False
        self._losses = 0
        self._failed_at = 0.0
        self.is_lost = False
        """It has failed and not yet served well again."""

    @property
    def is_stuck(self) -> bool:
        """A call that was given up has not come back."""
        running = self._running
        return running is not None and running.is_given_up

    @property
    def waiting(self) -> int:
        """Calls that have not begun."""
        return self._calls.qsize()

    def ask(self, work: Work, otherwise: Finish = lambda: None) -> None:
        """Have it done, in turn; `otherwise` is called once if it fails or is given up. From any thread."""
        self._start()
        self._calls.put(_Call(work, otherwise))

    def after(self, finish: Finish) -> None:
        """Have this called when all that was asked before is done; it says nothing of how the port serves."""
        self._start()
        self._calls.put(finish)

    def look(self, now: float) -> None:
        """Give up the call that has passed its limit, if any. To be called again and again."""
        with self._lock:
            call = self._running
            if call is None or call.is_given_up or call.started_at is None:
                return
            if now - call.started_at < self.limit:
                return
            call.is_given_up = True
        self.fail(f"no answer for {self.limit:g} s")
        call.otherwise()

    def fail(self, reason: str) -> None:
        """The port let the run down: told once, until it serves again."""
        with self._lock:
            self._failed_at = self._clock.now()
            is_news, self.is_lost = not self.is_lost, True
            self._losses += is_news
        if is_news:
            self._put(PortFailed(self._failed_at, self.port, reason))

    def close(self) -> bool:
        """End the thread, with what waits undone; False when it hangs and is left behind."""
        thread = self._thread
        if thread is None:
            return True
        self._is_closing = True
        self._calls.put(None)
        thread.join(CLOSE_SECONDS)
        return not thread.is_alive()

    def _start(self) -> None:
        with self._lock:
            if self._thread is None:
                self._thread = threading.Thread(target=self._serve, name=self.port.value, daemon=True)
                self._thread.start()

    def _serve(self) -> None:
        while (call := self._calls.get()) is not None:
            if self._is_closing:
                continue
            if isinstance(call, _Call):
                self._do(call)
            else:
                call()

    def _do(self, call: _Call) -> None:
        with self._lock:
            call.started_at, self._running = self._clock.now(), call
        try:
            finish = call.work()
            if self._has_come_back(call) and finish is not None:
                finish()
        except Exception as error:  # noqa: BLE001 - whatever a library raises is told and survived
            self._miss(call, error)

    def _has_come_back(self, call: _Call) -> bool:
        """Whether what the call gave is still wanted; in any case the port answers again."""
        with self._lock:
            self._running = None
            now = self._clock.now()
            is_calm = now - self._failed_at >= CALM_SECONDS and self._losses < MOST_LOSSES
            is_back = self.is_lost and is_calm
            self.is_lost = self.is_lost and not is_back
        if is_back:
            self._put(PortBack(now, self.port))
        return not call.is_given_up

    def _miss(self, call: _Call, error: Exception) -> None:
        with self._lock:
            self._running = None
            is_given_up, call.is_given_up = call.is_given_up, True
        self.fail(reason_of(error))
        if not is_given_up:
            call.otherwise()
