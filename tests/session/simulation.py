"""Simulated time over the session's real threads: nothing sleeps, and a call hangs for as long as it is told.

Time goes on only when every thread has done what it was asked, or hangs.
"""

import heapq
import itertools
import threading
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final

from runner.session.live.attendant import Attendant
from runner.session.live.inbox import Letter

REAL_SECONDS: Final = 30.0
"""A thread that has not moved for so long in real time is a mistake of the simulation."""
EVER: Final = float("inf")


class Simulation:
    """A Timekeeper and an Inbox in one; `wait` and `get` are called by the loop's thread alone."""

    def __init__(self, start: float) -> None:
        self._now = start
        self._letters: deque[Letter] = deque()
        self._agenda: list[tuple[float, int, Callable[[], None]]] = []
        self._numbers = itertools.count()
        self._changed = threading.Condition()
        self._hung: dict[threading.Thread, threading.Event] = {}
        self._is_writing = False
        self._has_ended = False
        self.attendants: list[Attendant] = []
        """In the order in which one asks the next."""

    def now(self) -> float:
        """Seconds since the epoch, simulated."""
        return self._now

    def put(self, letter: Letter) -> None:
        """Leave it; from any thread."""
        self._letters.append(letter)

    def at(self, time: float, action: Callable[[], None]) -> None:
        """Do it on the loop's thread when that time has come; from any thread."""
        with self._changed:
            heapq.heappush(self._agenda, (time, next(self._numbers), action))

    def hang(self, seconds: float) -> None:
        """Keep the calling thread for so long: for ever is until the end of the simulation."""
        thread, gate = threading.current_thread(), threading.Event()
        if self._has_ended:
            return

        def let_go() -> None:
            with self._changed:
                self._hung.pop(thread, None)
            gate.set()

        if seconds < EVER:
            self.at(self._now + seconds, let_go)
        with self._changed:
            self._hung[thread] = gate
            self._changed.notify_all()
        assert gate.wait(REAL_SECONDS * 10)

    def end(self) -> None:
        """Let go of everything that hangs."""
        with self._changed:
            self._has_ended = True
            gates, self._hung = list(self._hung.values()), {}
        for gate in gates:
            gate.set()

    @contextmanager
    def writing(self) -> Iterator[None]:
        """The record's thread is at work from now on, until `wrote` or for as long as it hangs."""
        self._is_writing = True
        try:
            yield
        finally:
            self._is_writing = False

    def wrote(self) -> None:
        """The record's thread is about to come back."""
        with self._changed:
            self._is_writing = False
            self._changed.notify_all()

    def wait(self, happened: threading.Event, until: float) -> bool:
        """Let time go by until it has happened, or until this time."""
        while True:
            self._rest(happened)
            if happened.is_set() or self._now >= until:
                return happened.is_set()
            self._go_on(until)

    def get(self, until: float) -> Letter | None:
        """The next letter; None when none has come by this time."""
        while True:
            self._rest(None)
            if self._letters:
                return self._letters.popleft()
            if self._now >= until:
                return None
            self._go_on(until)

    def _go_on(self, until: float) -> None:
        """To the next thing on the agenda, or to this time."""
        with self._changed:
            if not self._agenda or self._agenda[0][0] > until:
                self._now = until
                return
            time, _, action = heapq.heappop(self._agenda)
            self._now = max(self._now, time)
        action()

    def _rest(self, happened: threading.Event | None) -> None:
        """Wait, in real time, until every thread has nothing to do or hangs."""
        for attendant in self.attendants:
            thread = attendant._thread
            if thread is not None:
                self._rest_one(attendant, thread)
        if happened is not None and self._is_writing:
            self._await(lambda: not self._is_writing or self._is_hanging("record"))
            if not self._is_writing:
                assert happened.wait(REAL_SECONDS)

    def _is_hanging(self, name: str) -> bool:
        return any(thread.name == name for thread in self._hung)

    def _rest_one(self, attendant: Attendant, thread: threading.Thread) -> None:
        passed: list[None] = []

        def tell() -> None:
            with self._changed:
                passed.append(None)
                self._changed.notify_all()

        with self._changed:
            if thread in self._hung or not thread.is_alive():
                return
        attendant.after(tell)
        self._await(lambda: bool(passed) or thread in self._hung)

    def _await(self, is_true: Callable[[], bool]) -> None:
        with self._changed:
            assert self._changed.wait_for(is_true, REAL_SECONDS), "a thread neither rests nor hangs"
