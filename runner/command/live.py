"""A live run on this terminal: record, room, screen, and what is left of them at the end."""

from __future__ import annotations

import argparse
import contextlib
import os
import signal
import sys
import threading
import traceback
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final, TextIO

from runner.command.closing import finding_lines
from runner.command.moves import moves_of
from runner.core.entry import Entry
from runner.core.event import Port
from runner.core.machine import Machine
from runner.core.state import State
from runner.core.summary import summarise
from runner.errors import AudioError, EyesoutError, UsageError
from runner.logbook.history import find_run, unfinished
from runner.logbook.record import header_of
from runner.logbook.store import Logbook, RunHandle
from runner.place import learned_folder, prompt_folder
from runner.screen.build import build_view
from runner.screen.console import Console
from runner.screen.keys import Given, Intent, NoteClosed
from runner.screen.port import Screen
from runner.screen.stopping import STOPPING
from runner.screen.view import Noise, Sound, View
from runner.session.attendant import Attendant, reason_of
from runner.session.beginning import begin_run
from runner.session.clip import ClipFolder
from runner.session.engine import BUILTIN
from runner.session.equipment import Ends, Equipment, Wanted, open_equipment
from runner.session.live import Room, run_live
from runner.session.parts import Parts, load_parts, recorded_parts
from runner.session.profile import EarChoice, choose_ear
from runner.session.scribe import Scribe
from runner.session.session import Session
from runner.voice.clock import Clock, start_clock
from runner.voice.endpoint import Patience
from runner.voice.portaudio import PortAudio, Role
from runner.voice.stray import keep_stray_lines_off

LEAVE_SECONDS: Final = 15.0
"""So long the run gets to end when the pilot leaves: a write to a slow disk is let come to its end."""
SLACK_SECONDS: Final = 2.0
"""A clock that stands back by less was only put right."""
SIGNALLED: Final = 128
"""Added to a signal's number, the exit code of a program that was told to stop (a shell's custom)."""
OPEN: Final = "the record holds what was acknowledged; go on with `eyesout run --resume`"


@dataclass(slots=True)
class LiveRun:
    """A run that is open for writing, with everything around it."""

    parts: Parts
    record: RunHandle
    machine: Machine
    room: Room
    equipment: Equipment
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
        return build_view(
            self.machine,
            self.room.clock.now(),
            airplane=self.parts.airplane.title,
            registration=self.parts.airplane.registration,
            sound=self._sound(),
            reason=self.room.refusal,
        )

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
            case Given(turn, meaning, text):
                self.room.key(turn, meaning, text)
            case NoteClosed():
                self.room.close_note()
            case _:
                self.room.stop()

    def _sound(self) -> Sound:
        hearing = self.equipment.hearing
        if hearing is None:
            return Sound()
        level = hearing.level
        return Sound(
            engine=self.equipment.engine,
            dbfs=None if level is None else level.dbfs,
            noise=Noise.UNKNOWN if level is None else Noise(hearing.room.value),
        )


def run_room(arguments: argparse.Namespace, out: TextIO) -> int:
    """Run the check on this terminal; 0 when it was completed."""
    with Logbook.open(arguments.logbook) as logbook:
        last_at = _last_at(arguments, logbook)
        is_set_back = start_clock().now() < last_at - SLACK_SECONDS
        clock = start_clock(not_before=last_at)
        ear = _choose_ear(arguments, logbook, clock)
        parts, record, entries = _begin(arguments, logbook, clock, ear)
        with record:
            _tell(*logbook.notices, *filter(None, [ear.notice]))
            live = _assemble(arguments, logbook, (parts, record, entries), clock, ear)
            live.is_set_back = is_set_back
            is_plain = arguments.plain or _is_dumb()
            with contextlib.nullcontext() if is_plain else keep_stray_lines_off():
                try:
                    _run_screen(live, is_plain=is_plain)
                finally:
                    live.is_hung = not live.equipment.close() or live.is_hung
    code = _close(live, out)
    if live.is_hung:  # a library that hangs would keep the program from ending
        out.flush()
        sys.stderr.flush()
        os._exit(code)
    return code


def _close(live: LiveRun, out: TextIO) -> int:
    """Print what is left of the run; the exit code says how it ended."""
    if live.failure is not None:
        if not live.is_hung:
            raise live.failure
        _tell(str(live.failure))
        return live.failure.exit_code
    print("\n".join(_closing(live)), file=out)
    if live.stopped_by:
        return SIGNALLED + live.stopped_by
    return 0 if live.machine.state is State.COMPLETE else 1


def _last_at(arguments: argparse.Namespace, logbook: Logbook) -> float:
    """When the record of the run that is gone on with ends, seconds since the epoch; 0 for a new run."""
    if arguments.resume is None:
        return 0.0
    entries = logbook.entries(_run_to_resume(logbook, arguments.resume))
    return max((entry.at for entry in entries), default=0.0)


def _choose_ear(arguments: argparse.Namespace, logbook: Logbook, clock: Clock) -> EarChoice:
    """What was learned of this pilot on this microphone, unless an ear is named or keys answer."""
    if arguments.keys or arguments.engine:
        return EarChoice(arguments.engine or BUILTIN)
    pilot = arguments.by
    if arguments.resume is not None and not pilot:
        pilot = header_of(logbook, _run_to_resume(logbook, arguments.resume)).pilot
    try:
        device = PortAudio(clock).name_of(Role.MICROPHONE, arguments.microphone)
    except AudioError:  # told of when the equipment is opened
        return EarChoice(BUILTIN)
    return choose_ear(arguments.engine, pilot, device, learned_folder())


def _begin(
    arguments: argparse.Namespace, logbook: Logbook, clock: Clock, ear: EarChoice
) -> tuple[Parts, RunHandle, tuple[Entry, ...]]:
    """A new run, or one that was stopped."""
    if arguments.resume is not None:
        run = _run_to_resume(logbook, arguments.resume)
        return recorded_parts(logbook, run), logbook.resume(run), logbook.entries(run)
    parts = load_parts(arguments.check)
    record = begin_run(
        logbook,
        parts,
        pilot=arguments.by,
        started_at=clock.now(),
        engine=None if arguments.keys else ear.engine,
        oat_celsius=arguments.oat,
    )
    return parts, record, ()


def _run_to_resume(logbook: Logbook, words: str) -> str:
    if words:
        return find_run(logbook, words).run
    waiting = unfinished(logbook)
    if not waiting:
        raise UsageError("no run was stopped half-way; start one with `eyesout run CHECK`")
    return waiting[0].run


def _assemble(
    arguments: argparse.Namespace,
    logbook: Logbook,
    begun: tuple[Parts, RunHandle, tuple[Entry, ...]],
    clock: Clock,
    ear: EarChoice,
) -> LiveRun:
    parts, record, entries = begun
    machine = Machine(parts.plan, entries)
    room = Room(machine, clock, lambda: None)
    equipment = Equipment()
    if not arguments.keys:
        ends = Ends(room.put, ClipFolder(logbook.clips, record.run).keep)
        equipment = open_equipment(_wanted(arguments, ear), parts, clock, ends)
    _tell(*(f"{notice}; answering by keys" for notice in equipment.notices))
    room.equip(equipment.speech, equipment.hearing)
    room.screen = Attendant(Port.SCREEN, clock, room.put)
    live = LiveRun(parts, record, machine, room, equipment)
    room.show_run = live.show
    live.find_moves = lambda: moves_of(logbook, record.header.registration)
    return live


def _tell(*notices: str) -> None:
    for notice in notices:
        sys.stderr.write(f"eyesout: {notice}\n")


def _wanted(arguments: argparse.Namespace, ear: EarChoice) -> Wanted:
    return Wanted(
        engine=ear.engine,
        threshold=ear.threshold,
        microphone=arguments.microphone,
        loudspeaker=arguments.loudspeaker,
        voice=arguments.voice,
        rate=arguments.rate,
        patience=Patience(arguments.patience),
        has_headset=arguments.headset,
        prompts=prompt_folder(),
    )


def _run_screen(live: LiveRun, *, is_plain: bool) -> None:
    """The screen on this thread, the run on its own, until both are over."""
    screen = _plain_screen(live) if is_plain else _full_screen(live)
    live.post = screen.post_view
    loop = threading.Thread(target=_loop, args=(live, screen), name="run", daemon=True)
    loop.start()
    live.room.settle()
    try:
        with _stopped_by_signals() if is_plain else contextlib.nullcontext():
            screen.run()
    except Stopped as stopped:
        live.stopped_by = stopped.number
    finally:
        live.stopped_by = live.stopped_by or getattr(screen, "stopped_by", 0)
        live.room.stop()
        loop.join(LEAVE_SECONDS)
        ended = live.room.screen is None or live.room.screen.close()
        live.is_hung = loop.is_alive() or not ended


class Stopped(BaseException):
    """The system asked the program to stop, by this signal."""

    def __init__(self, number: int) -> None:
        super().__init__(number)
        self.number = number


@contextlib.contextmanager
def _stopped_by_signals() -> Iterator[None]:
    """Let a signal end what waits for the next line; the screen in the whole terminal has its own way."""

    def stop(number: int, _frame: object) -> None:
        raise Stopped(number)

    before = {number: signal.signal(number, stop) for number in STOPPING}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _loop(live: LiveRun, screen: Screen) -> None:
    scribe = Scribe(live.record.append, live.room.clock)
    session = Session(live.machine, scribe.append, live.room)
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
    from runner.screen.app import EyesoutApp  # noqa: PLC0415 - takes time to load

    return EyesoutApp(live.view(), live.act)


def _plain_screen(live: LiveRun) -> Screen:
    def act(intent: Intent) -> None:
        live.act(intent)
        live.room.settle()

    return Console(live.view(), act, sys.stdin, sys.stdout)


def _is_dumb() -> bool:
    """No full screen where the terminal can show none."""
    return os.environ.get("TERM", "dumb") in ("dumb", "") or not sys.stdout.isatty()


def _closing(live: LiveRun) -> list[str]:
    state = live.machine.state
    summary = summarise(live.machine.progress, live.room.clock.now())
    lines = [f"{live.parts.check.title}: {state.value}", *finding_lines(live.parts, summary)]
    lines += [live.moves] if live.moves else []
    lines += ["", f"record  {live.record.run}"]
    if state not in (State.COMPLETE, State.ABANDONED):
        lines.append(f"not over; go on with: eyesout run --resume {live.record.run}")
    return lines
