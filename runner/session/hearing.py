"""The ear's thread: takes blocks and orders in one queue and puts events into the session's."""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable
from typing import Final

from runner.core.event import Event, MicBack, MicLost
from runner.language.force import InForce
from runner.session.interpreter import Interpreter
from runner.voice.listener import Listener
from runner.voice.noise import Room
from runner.voice.port import Block, Samples
from runner.voice.result import Level, Result, RoomChanged

WAITING_BLOCKS: Final = 400
"""12 seconds of sound; when recognition falls so far behind, the oldest sound is of no use any more."""

Order = Callable[[], None]


class Hearing:
    """Runs a listener on its own thread. All methods may be called from any thread."""

    def __init__(
        self,
        listener: Listener,
        put: Callable[[Event], None],
        keep_clip: Callable[[Samples], str],
        now: Callable[[], float],
    ) -> None:
        self._listener, self._put, self._now = listener, put, now
        self._inbox: queue.Queue[Block | Order | None] = queue.Queue()
        self._interpreter = Interpreter(keep_clip)
        self._thread = threading.Thread(target=self._run, name="ear", daemon=True)
        self.level: Level | None = None
        """The newest level, for the meter."""
        self.room = Room.QUIET
        self.is_hearing = False
        """Someone is speaking now."""

    def start(self) -> None:
        """Begin to listen."""
        self._thread.start()

    def close(self) -> None:
        """End the thread and wait for it."""
        self._inbox.put(None)
        self._thread.join()

    def deliver(self, block: Block) -> None:
        """A block from the microphone; dropped when the ear is hopelessly behind."""
        if self._inbox.qsize() < WAITING_BLOCKS:
            self._inbox.put(block)

    def microphone_changed(self, is_lost: bool, at: float) -> None:  # noqa: FBT001 - the microphone's callback
        """The device disappeared, or is back."""
        if is_lost:
            self.level = None
            self.is_hearing = False
        self._put((MicLost if is_lost else MicBack)(at))

    def listen(self, turn: int, in_force: InForce) -> None:
        """These phrases count from now on."""
        self._inbox.put(lambda: self._expect(turn, in_force))

    def record_note(self, turn: int) -> None:
        """The next thing said is a note."""
        self._inbox.put(lambda: self._listener.record(turn))

    def close_note(self) -> None:
        """The note ends here, whatever is being said."""
        self._inbox.put(self._end_note)

    def prompt_started(self) -> None:
        """The loudspeaker begins."""
        self._inbox.put(self._listener.playback_started)

    def prompt_ended(self, at: float) -> None:
        """The loudspeaker has ended."""
        self._inbox.put(lambda: self._listener.playback_ended(at))

    def _run(self) -> None:
        while (message := self._inbox.get()) is not None:
            if isinstance(message, Block):
                self._hear(message)
            else:
                message()

    def _hear(self, block: Block) -> None:
        for result in self._listener.hear(block):
            self._take(result)
        self.is_hearing = self._listener.is_hearing

    def _expect(self, turn: int, in_force: InForce) -> None:
        self._interpreter.listen(turn, in_force)
        self._listener.expect(turn, in_force.phrases)

    def _end_note(self) -> None:
        for result in self._listener.close_note(self._now()):
            self._take(result)

    def _take(self, result: Result) -> None:
        if isinstance(result, Level):
            self.level = result
        if isinstance(result, RoomChanged):
            self.room = result.room
        event = self._interpreter.event_of(result)
        if event is not None:
            self._put(event)
