"""A live run on this terminal: record, room, screen, and what is left of them at the end."""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TextIO

from runner.command.closing import finding_lines
from runner.command.moves import moves_of
from runner.core.entry import Entry
from runner.core.machine import Machine
from runner.core.state import State
from runner.core.summary import summarise
from runner.errors import AudioError, UsageError
from runner.logbook.history import find_run, unfinished
from runner.logbook.record import header_of
from runner.logbook.store import Logbook, RunHandle
from runner.place import learned_folder, prompt_folder
from runner.screen.build import build_view
from runner.screen.console import Console
from runner.screen.keys import Given, Intent, NoteClosed
from runner.screen.port import Screen
from runner.screen.view import Noise, Sound, View
from runner.session.beginning import begin_run
from runner.session.clip import ClipFolder
from runner.session.engine import BUILTIN
from runner.session.equipment import Ends, Equipment, Wanted, open_equipment
from runner.session.live import Room, run_live
from runner.session.parts import Parts, load_parts, recorded_parts
from runner.session.profile import EarChoice, choose_ear
from runner.session.session import Session
from runner.voice.clock import Clock, start_clock
from runner.voice.endpoint import Patience
from runner.voice.portaudio import PortAudio, Role
from runner.voice.stray import keep_stray_lines_off


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
    failure: BaseException | None = field(default=None)
    """What ended the loop, if it was an error."""

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
        """Send the newest view to the screen."""
        self.post(self.view())

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
    clock = start_clock()
    with Logbook.open(arguments.logbook) as logbook:
        ear = _choose_ear(arguments, logbook, clock)
        parts, record, entries = _begin(arguments, logbook, clock, ear)
        with record:
            _tell(*logbook.notices, *filter(None, [ear.notice]))
            live = _assemble(arguments, logbook, (parts, record, entries), clock, ear)
            is_plain = arguments.plain or _is_dumb()
            with contextlib.nullcontext() if is_plain else keep_stray_lines_off():
                try:
                    _run_screen(live, is_plain=is_plain)
                finally:
                    live.equipment.close()
            if live.failure is not None:
                raise live.failure
    print("\n".join(_closing(live)), file=out)
    return 0 if live.machine.state is State.COMPLETE else 1


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
    room.mouth, room.speaker, room.hearing = equipment.mouth, equipment.speaker, equipment.hearing
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
        has_emphasis=arguments.emphasis,
        patience=Patience(arguments.patience),
        has_headset=arguments.headset,
        prompts=prompt_folder(),
    )


def _run_screen(live: LiveRun, *, is_plain: bool) -> None:
    """The screen on this thread, the run on its own, until both are over."""
    screen = _plain_screen(live) if is_plain else _full_screen(live)
    live.post = screen.post_view
    loop = threading.Thread(target=_loop, args=(live, screen), name="run")
    loop.start()
    live.room.settle()
    try:
        screen.run()
    finally:
        live.room.stop()
        loop.join()


def _loop(live: LiveRun, screen: Screen) -> None:
    session = Session(live.machine, live.record.append, live.room)
    try:
        is_over = run_live(session, live.room)
        live.show()
        if is_over:
            live.moves = live.find_moves()
            live.room.tell(live.moves)
    except BaseException as error:  # noqa: BLE001 - told on the main thread, once the screen is gone
        live.failure = error
        screen.close()


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
