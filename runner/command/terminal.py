"""A run on a terminal: the screen on one thread, the run on another, and both brought to their end."""

from __future__ import annotations

import contextlib
import signal
import sys
import threading
import traceback
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final, Protocol

from runner.core.grid.machine import Machine
from runner.core.record.entry import Entry
from runner.drill.drill_desk import DrillDesk
from runner.errors import EyesoutError
from runner.screen.build import build_view
from runner.screen.drill_view import drill_view
from runner.screen.full.screen_stop import STOPPING
from runner.screen.keys import Intent, KeyedAnswer, NoteClosed, NoteWritten
from runner.screen.plain.console import Console
from runner.screen.plain.plain_view import WIDTH
from runner.screen.view import NoiseView, SoundView, View
from runner.session.drilled.drill_session import DrillSession
from runner.session.live.attendant import reason_of
from runner.session.live.equipment import Equipment
from runner.session.live.live_room import LiveRoom, run_live
from runner.session.live.scribe import Scribe
from runner.session.parts import Parts
from runner.session.session import Session
from runner.terminal import terminal_width

LEAVE_SECONDS: Final = 15.0
"""So long the run gets to end when the pilot leaves: a write to a slow disk is let come to its end."""
OPEN: Final = "the record holds what was acknowledged; go on with `eyesout run --resume`"


class Screen(Protocol):
    """Shows views, hands intents to the callback it was made with."""

    def post_view(self, view: View) -> None:
        """Show this view from now on. May be called from any thread."""
        ...

    def run(self) -> object:
        """Read keys on this thread until the pilot leaves or the screen is closed."""
        ...

    def close(self) -> None:
        """End the screen. May be called from any thread."""
        ...


class OpenRecord(Protocol):
    """A run's or a drill's record, open for writing."""

    run: str
    """Its id."""

    def append(self, entry: Entry) -> None:
        """Put one entry on disk; RecordError when it is not."""
        ...


@dataclass(slots=True)
class LiveRun:
    """A run that is open for writing, with everything around it."""

    parts: Parts
    record: OpenRecord
    machine: Machine
    room: LiveRoom
    equipment: Equipment
    desk: DrillDesk | None = None
    """Of a drill: the played airplane and what is done to it."""
    is_drill: bool = False
    """Nothing of it is about a real airplane."""
    post: Callable[[View], None] = lambda _view: None
    """Where views go; set once the screen exists."""
    find_moves: Callable[[], str] = lambda: ""
    """The sentence on what moved over this airplane's runs; empty when nothing did."""
    moves: str = ""
    failure: EyesoutError | None = None
    """What ended the loop, if it was an error."""
    newest: View | None = None
    """Not yet sent to the screen."""
    stopped_by: int = 0
    """The signal that ended the screen; 0 when none did."""
    is_set_back: bool = False
    """The computer's clock stands before the record's last entry."""
    is_hung: bool = False
    """The loop did not come to its end when it was told to."""

    def view(self) -> View:
        """The run as it is now."""
        now = self.room.clock.now()
        view = build_view(
            self.machine,
            now,
            airplane=self.parts.airplane_title,
            registration=self.parts.registration,
            sound=self._sound(),
            reason=self.room.refusal,
        )
        if self.desk is None:
            return replace(view, is_drill=self.is_drill)
        questions = {item.name: item.challenge for item in self.parts.check.items}
        return replace(view, is_drill=True, drill=drill_view(self.desk, now, questions))

    def show(self) -> None:
        """Send the newest view to the screen, which gets to it when it can."""
        self.newest, screen = self.view(), self.room.screen
        if screen is not None and not screen.is_stuck:
            screen.ask(self._post_newest)

    def _post_newest(self) -> None:
        view, self.newest = self.newest, None
        if view is not None:
            self.post(view)

    def act(self, intent: Intent) -> None:
        """What a key asks for."""
        match intent:
            case KeyedAnswer(turn, meaning, text):
                self.room.key(turn, meaning, text)
            case NoteClosed():
                self.room.close_note()
            case NoteWritten(text):
                self.room.write_note(text)
            case _:
                self.room.stop()

    def _sound(self) -> SoundView:
        hearing = self.equipment.hearing
        if hearing is None:
            return SoundView()
        level = hearing.level
        return SoundView(
            engine=self.equipment.engine,
            dbfs=None if level is None else level.dbfs,
            noise=NoiseView.UNKNOWN if level is None else NoiseView(hearing.room.value),
        )


def run_screen(live: LiveRun, *, is_plain: bool) -> None:
    """The screen on this thread, the run on its own, until both are over."""
    screen = _plain_screen(live) if is_plain else _full_screen(live)
    live.post = screen.post_view
    loop = threading.Thread(target=_loop, args=(live, screen), name="run", daemon=True)
    try:
        with _stopped_by_signals() if is_plain else contextlib.nullcontext():
            loop.start()
            live.room.settle()
            screen.run()
    except TerminalStopped as stopped:
        live.stopped_by = stopped.number
    finally:
        live.stopped_by = live.stopped_by or getattr(screen, "stopped_by", 0)
        live.room.stop()
        loop.join(LEAVE_SECONDS)
        ended = live.room.screen is None or live.room.screen.close()
        live.is_hung = loop.is_alive() or not ended


class TerminalStopped(BaseException):
    """The system asked the program to stop, by this signal."""

    def __init__(self, number: int) -> None:
        super().__init__(number)
        self.number = number


@contextlib.contextmanager
def _stopped_by_signals() -> Iterator[None]:
    """Let a signal end what waits for the next line; the screen in the whole terminal has its own way."""

    def stop(number: int, _frame: object) -> None:
        raise TerminalStopped(number)

    before = {number: signal.signal(number, stop) for number in STOPPING}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _loop(live: LiveRun, screen: Screen) -> None:
    scribe = Scribe(live.record.append, live.room.clock)
    if live.desk is None:
        session = Session(live.machine, scribe.append, live.room)
    else:
        session = DrillSession(live.machine, scribe.append, live.room, live.desk)
    try:
        is_over = run_live(session, live.room, is_set_back=live.is_set_back)
        live.show()
        if is_over:
            live.moves = live.find_moves()
            live.room.tell(live.moves)
    except EyesoutError as error:
        live.failure = error
        screen.close()
    except BaseException as error:  # noqa: BLE001 - told on the main thread, once the screen is gone
        live.failure = EyesoutError(f"the run stopped by a mistake in eyesout: {where(error)}; {OPEN}")
        screen.close()
    live.is_hung = not scribe.close()


def where(error: BaseException) -> str:
    """An error with the line that raised it, in one line."""
    last = traceback.extract_tb(error.__traceback__)[-1:]
    return reason_of(error) + "".join(f" ({Path(frame.filename).name}:{frame.lineno})" for frame in last)


def _full_screen(live: LiveRun) -> Screen:
    from runner.screen.full.screen_app import EyesoutApp  # noqa: PLC0415 - takes time to load

    return EyesoutApp(live.view(), live.act)


def _plain_screen(live: LiveRun) -> Screen:
    def act(intent: Intent) -> None:
        live.act(intent)
        live.room.settle()

    return Console(live.view(), act, sys.stdin, sys.stdout, terminal_width(sys.stdout) or WIDTH)
