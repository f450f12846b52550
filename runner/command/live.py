"""A live run on this terminal: record, room, screen, and what is left of them at the end."""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from collections.abc import Callable
from dataclasses import replace
from typing import Final, TextIO

from runner.command.closing import finding_lines
from runner.command.terminal import LiveRun, OpenRecord, run_screen
from runner.core.event import Port
from runner.core.grid.machine import Machine
from runner.core.record.entry import Entry
from runner.core.record.run_summary import summarise
from runner.core.state import State
from runner.errors import AudioError, UsageError
from runner.logbook.list.run_list import find_run, unfinished
from runner.logbook.record.record import header_of
from runner.logbook.record.run_store import Logbook, RunHandle
from runner.place import learned_folder, prompt_folder
from runner.report.fleet.airplane_trend import moves_of
from runner.session.beginning import begin_run
from runner.session.engine import BUILTIN, goes_by_keys
from runner.session.learn.profile import EarChoice, choose_ear
from runner.session.live.attendant import Attendant
from runner.session.live.equipment import Ends, Equipment, EquipmentChoice, open_equipment
from runner.session.live.live_room import LiveRoom
from runner.session.live.note_clip import ClipFolder
from runner.session.parts import Parts, load_parts, recorded_parts
from runner.session.recollection import recall
from runner.terminal import is_utf8
from runner.voice.card.audio_clock import AudioClock, start_clock
from runner.voice.card.portaudio import PortAudio, Role
from runner.voice.card.stray import keep_stray_lines_off
from runner.voice.listen.endpoint import Patience
from runner.voice.port import Samples, Sound

SLACK_SECONDS: Final = 2.0
"""A clock that stands back by less was only put right."""
SIGNALLED: Final = 128
"""Added to a signal's number, the exit code of a program that was told to stop (a shell's custom)."""


def run_room(arguments: argparse.Namespace, out: TextIO) -> int:
    """Run the check on this terminal; 0 when it was completed."""
    with Logbook.open(arguments.logbook) as logbook:
        arguments.keys = arguments.keys or _went_by_keys(arguments, logbook)
        last_at = _last_at(arguments, logbook)
        is_set_back = start_clock().now() < last_at - SLACK_SECONDS
        clock = start_clock(not_before=last_at)
        ear = _choose_ear(arguments, logbook, clock)
        parts, record, entries = _begin(arguments, logbook, clock, ear)
        with record:
            _tell(*logbook.notices, *filter(None, [ear.notice]))
            keep_clip = ClipFolder(logbook.clips, record.run).keep
            live = open_room(arguments, (parts, record, entries), clock, ear, keep_clip)
            live.find_moves = lambda: moves_of(logbook, record.header.registration)
            live.is_set_back = is_set_back
            show_room(live, arguments)
    return leave_room(live, _close(live, out), out)


def show_room(live: LiveRun, arguments: argparse.Namespace) -> None:
    """The run on its screen until both are over, and the sound closed."""
    is_plain = arguments.plain or _is_dumb()
    with contextlib.nullcontext() if is_plain else keep_stray_lines_off():
        try:
            run_screen(live, is_plain=is_plain)
        finally:
            live.is_hung = not live.equipment.close() or live.is_hung


def leave_room(live: LiveRun, code: int, out: TextIO) -> int:
    """The exit code; where something hangs the program ends here."""
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


def _went_by_keys(arguments: argparse.Namespace, logbook: Logbook) -> bool:
    """A run that is gone on with is answered as it was begun, unless an ear or a microphone is named."""
    wants_voice = arguments.engine or arguments.microphone or arguments.headset
    if arguments.resume is None or wants_voice:
        return False
    if not goes_by_keys(header_of(logbook, _run_to_resume(logbook, arguments.resume)).made_with):
        return False
    _tell("answered by keys, as the run was begun; --engine builtin is for voice")
    return True


def _choose_ear(arguments: argparse.Namespace, logbook: Logbook, clock: AudioClock) -> EarChoice:
    """Of the pilot who runs it, or who began it."""
    pilot = arguments.by
    if arguments.resume is not None and not pilot:
        pilot = header_of(logbook, _run_to_resume(logbook, arguments.resume)).pilot
    return ear_of(arguments, pilot, clock)


def ear_of(arguments: argparse.Namespace, pilot: str, clock: AudioClock) -> EarChoice:
    """What was learned of this pilot on this microphone, unless an ear is named or keys answer."""
    if arguments.keys or arguments.engine:
        return EarChoice(arguments.engine or BUILTIN)
    try:
        device = PortAudio(clock).name_of(Role.MICROPHONE, arguments.microphone)
    except AudioError:  # told of when the equipment is opened
        return EarChoice(BUILTIN)
    return choose_ear(arguments.engine, pilot, device, learned_folder())


def _begin(
    arguments: argparse.Namespace, logbook: Logbook, clock: AudioClock, ear: EarChoice
) -> tuple[Parts, RunHandle, tuple[Entry, ...]]:
    """A new run, or one that was stopped."""
    if arguments.resume is not None:
        run = _run_to_resume(logbook, arguments.resume)
        parts, record = recorded_parts(logbook, run), logbook.resume(run)
        return _recalled(parts, logbook, record), record, logbook.entries(run)
    parts = load_parts(arguments.check)
    record = begin_run(
        logbook,
        parts,
        pilot=arguments.by,
        started_at=clock.now(),
        engine=None if arguments.keys else ear.engine,
        oat_celsius=arguments.oat,
    )
    return _recalled(parts, logbook, record), record, ()


def _recalled(parts: Parts, logbook: Logbook, record: RunHandle) -> Parts:
    """With what this logbook's other runs tell of the pilot and the airplane."""
    return replace(parts, plan=recall(logbook, record.header, parts.plan))


def _run_to_resume(logbook: Logbook, words: str) -> str:
    if words:
        return find_run(logbook, words).run
    waiting = unfinished(logbook)
    if not waiting:
        raise UsageError("no run was stopped half-way; start one with `eyesout run CHECK`")
    return waiting[0].run


def open_room(
    arguments: argparse.Namespace,
    begun: tuple[Parts, OpenRecord, tuple[Entry, ...]],
    clock: AudioClock,
    ear: EarChoice,
    keep_clip: Callable[[Samples], str],
    *,
    worn: Callable[[Sound], Sound] | None = None,
) -> LiveRun:
    """A run with its room, and as much sound as there is and is wanted, through headphones or plain."""
    parts, record, entries = begun
    machine = Machine(parts.plan, entries)
    room = LiveRoom(machine, clock, lambda: None)
    equipment = Equipment()
    if not arguments.keys:
        ends = Ends(room.put, keep_clip)
        equipment = open_equipment(_wanted(arguments, ear, worn), parts, clock, ends)
    _tell(*(f"{notice}; answering by keys" for notice in equipment.notices))
    room.equip(equipment.speech, equipment.hearing)
    room.screen = Attendant(Port.SCREEN, clock, room.put)
    live = LiveRun(parts, record, machine, room, equipment)
    room.show_run = live.show
    return live


def _tell(*notices: str) -> None:
    for notice in notices:
        sys.stderr.write(f"eyesout: {notice}\n")


def _wanted(
    arguments: argparse.Namespace, ear: EarChoice, worn: Callable[[Sound], Sound] | None
) -> EquipmentChoice:
    return EquipmentChoice(
        engine=ear.engine,
        worn=worn,
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


def _is_dumb() -> bool:
    """No full screen where the terminal can show none."""
    return (
        os.environ.get("TERM", "dumb") in ("dumb", "") or not sys.stdout.isatty() or not is_utf8(sys.stdout)
    )


def _closing(live: LiveRun) -> list[str]:
    state = live.machine.state
    summary = summarise(live.machine.progress, live.room.clock.now())
    lines = [f"{live.parts.check.title}: {state.value}", *finding_lines(live.parts, summary)]
    lines += [live.moves] if live.moves else []
    lines += ["", f"record  {live.record.run}"]
    if state not in (State.COMPLETE, State.ABANDONED):
        lines.append(f"not over; go on with: eyesout run --resume {live.record.run}")
    return lines
