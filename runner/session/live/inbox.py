"""The inbox: the one queue in which everything that happens around a run comes in its order."""

from __future__ import annotations

import queue
import threading
from dataclasses import dataclass, field
from typing import Protocol

from runner.core.event import Event
from runner.voice.card.audio_clock import Timekeeper


class InboxEnd:
    """Put into the inbox to end the loop."""


@dataclass(frozen=True, slots=True)
class Mark:
    """Put into the inbox to learn when all before it is done."""

    is_passed: threading.Event = field(default_factory=threading.Event)
    worked: int = -1
    """Letters that had been worked on when it came by last."""


Letter = Event | InboxEnd | Mark
"""What lies in an inbox."""


class Inbox(Protocol):
    """Takes letters from any thread, and from a signal's handler; one thread reads them."""

    def put(self, letter: Letter) -> None:
        """Leave it; never waits."""
        ...

    def get(self, until: float) -> Letter | None:
        """The next one; None when none has come by this time."""
        ...


class LiveInbox:
    """An inbox in real time."""

    def __init__(self, clock: Timekeeper) -> None:
        self._clock = clock
        self._letters: queue.SimpleQueue[Letter] = queue.SimpleQueue()

    def put(self, letter: Letter) -> None:
        """Leave it; never waits."""
        self._letters.put(letter)

    def get(self, until: float) -> Letter | None:
        """The next one; None when none has come by this time."""
        try:
            return self._letters.get(timeout=max(0.0, until - self._clock.now()))
        except queue.Empty:
            return None
