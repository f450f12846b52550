"""A whole check by keys alone: the real machine, the real record, no sound device."""

import threading
from collections.abc import Callable
from pathlib import Path
from typing import Self

import numpy as np
import pytest

from runner.core.ask.outlook import outlook_of
from runner.core.effect import Append
from runner.core.event import Answered, Channel, Port, Started
from runner.core.grid.machine import Machine
from runner.core.record.entry import Entry, PortChanged
from runner.core.record.run_summary import summarise
from runner.core.state import State
from runner.logbook.record.run_store import Logbook, RunHandle
from runner.session.beginning import begin_run
from runner.session.live import live_room as live
from runner.session.live.inbox import Errand, Mark
from runner.session.live.live_room import LiveRoom, run_live
from runner.session.live.prompt_mouth import Mouth
from runner.session.live.speech import Speech
from runner.session.parts import Parts, load_parts, recorded_parts
from runner.session.session import Session
from runner.voice.card.audio_clock import start_clock
from runner.voice.port import RATE, Sound
from tests.session.live.typed import meaning_of

VOLTS = {
    "battery temperature": "18",
    "battery at rest": "25.2",
    "volts on reserve": "25.1",
    "volts after": "25.0",
}


def _begin(logbook: Logbook, parts: Parts) -> RunHandle:
    return begin_run(logbook, parts, pilot="test", started_at=1796280000.0, engine=None, is_invented=True)


class _Hands:
    """A pilot at the keys: the first answer of every item, the volts of the table, clocks as they run."""

    def __init__(self, machine: Machine, record: RunHandle) -> None:
        self.machine = machine
        self.room = LiveRoom(machine, start_clock(), lambda: None)
        self.session = Session(machine, record.append, self.room)
        self.is_over = False
        self._loop = threading.Thread(target=self._run)

    def _run(self) -> None:
        self.is_over = run_live(self.session, self.room)

    def __enter__(self) -> Self:
        self._loop.start()
        self.room.settle()
        return self

    def __exit__(self, *_: object) -> None:
        self.room.stop()
        self._loop.join()

    def press(self, typed: str) -> None:
        """Answer, and wait until the run has taken it in."""
        meaning = meaning_of(self.machine.progress, typed)
        assert meaning is not None, f"{typed!r} means nothing in {self.machine.state}"
        self.room.key(self.machine.turn, meaning, typed)
        self.room.settle()

    def answer(self) -> None:
        """Answer what is asked as the table says, or with the first response."""
        outlook = outlook_of(self.machine.progress)
        if outlook.state is State.BRIEFING:
            self.press("continue")
        elif outlook.state is State.WAITING:
            self.press(outlook.clocks[0].answers[0].response.phrases[0])
        elif outlook.item is not None:
            self.press(VOLTS.get(outlook.item.name) or outlook.answers[0].response.phrases[0])


def record_entries(parts: Parts, at: float) -> list[Entry]:
    """The first entries of a run that was begun then, up to two running clocks."""
    machine, entries = Machine(parts.plan), list[Entry]()
    _, effects = machine.handle(Started(at))
    for step in range(1, len(parts.check.items)):
        if machine.progress.open_clocks:
            break
        entries += [effect.entry for effect in effects if isinstance(effect, Append)]
        now, outlook = at + 10.0 * step, outlook_of(machine.progress)
        typed = "continue" if outlook.item is None or step == 1 else VOLTS.get(outlook.item.name)
        meaning = meaning_of(machine.progress, typed or outlook.answers[0].response.phrases[0])
        assert meaning is not None
        _, effects = machine.handle(Answered(now, machine.turn, meaning, "key", 1.0, now, Channel.KEYS))
    assert machine.progress.open_clocks
    return entries + [effect.entry for effect in effects if isinstance(effect, Append)]


def test_what_waits_for_a_loop_that_has_ended_goes_on_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A finished plain run closes with the next line, however long a loop may take to settle."""
    monkeypatch.setattr(live, "SETTLE_SECONDS", 1000.0)
    machine = Machine(load_parts("merlow-reserve").plan)
    room = LiveRoom(machine, start_clock(), lambda: None)
    room.stop()
    assert not run_live(Session(machine, lambda _entry: None, room), room)
    room.settle()
    waiting = Mark()
    room.is_over = False
    room.events.put(waiting)
    room.leave()
    assert waiting.is_passed.is_set()


def test_a_picture_that_cannot_be_drawn_is_told_and_survived() -> None:
    """The run goes on, and the record says that the screen failed."""

    def fail() -> None:
        raise ValueError("no picture")

    entries: list[Entry] = []
    machine = Machine(load_parts("merlow-reserve").plan)
    room = LiveRoom(machine, start_clock(), fail)
    session = Session(machine, entries.append, room)
    session.take(Started(0.0))
    room.stop()
    run_live(session, room)
    lost = [entry for entry in entries if isinstance(entry, PortChanged)]
    assert [(entry.port, entry.is_lost) for entry in lost] == [(Port.SCREEN, True)]
    assert machine.progress.lost == {Port.SCREEN: "ValueError: no picture"}


def test_a_whole_check_goes_by_keys_alone(tmp_path: Path) -> None:
    """From the cautions to the completion call, with both clocks, and the record says the same."""
    parts = load_parts("merlow-reserve")
    with Logbook.open(tmp_path) as logbook, _begin(logbook, parts) as record:
        machine = Machine(parts.plan)
        with _Hands(machine, record) as hands:
            for _ in range(60):
                if machine.state is State.COMPLETE:
                    break
                hands.answer()
        assert hands.is_over
        assert machine.state is State.COMPLETE
        summary = summarise(machine.progress)
        assert {clock.item for clock in summary.clocks} == {item.name for item, _ in parts.check.clocks()}
        again = Machine(recorded_parts(logbook, record.run).plan, logbook.entries(record.run))
        assert again.state is State.COMPLETE
        assert summarise(again.progress).answers == summary.answers


def test_a_run_that_was_left_goes_on_where_it_was(tmp_path: Path) -> None:
    """The program ends in the middle; reopened, the same item is asked and the clock has run on."""
    parts = load_parts("merlow-reserve")
    with Logbook.open(tmp_path) as logbook:
        with _begin(logbook, parts) as record, _Hands(Machine(parts.plan), record) as hands:
            for _ in parts.check.items:
                if hands.machine.progress.open_clocks:
                    break
                hands.answer()
            hands.answer()
            before = outlook_of(hands.machine.progress)
            assert before.clocks
        with logbook.resume(record.run) as record_again:
            machine = Machine(recorded_parts(logbook, record.run).plan, logbook.entries(record.run))
            with _Hands(machine, record_again) as hands:
                after = outlook_of(hands.machine.progress)
                assert before.item is not None
                assert after.item is not None
                assert after.item.name == before.item.name
                assert [clock.clock.started_at for clock in after.clocks] == [
                    clock.clock.started_at for clock in before.clocks
                ]


class _Loud:
    """A loudspeaker that remembers what it played and ends at once."""

    def __init__(self) -> None:
        self.seconds: list[float] = []

    def play(self, sound: Sound, ended: Callable[[float], None]) -> None:
        """Remember how long it was."""
        self.seconds.append(sound.seconds)
        ended(0.0)

    def stop(self) -> None:
        """Nothing plays."""

    def close(self) -> None:
        """Nothing is held."""


class _Flat:
    """A voice of half a second a sentence."""

    name = "flat"

    def render(self, text: str) -> Sound:
        """The same for any text."""
        assert text
        return Sound(np.zeros(RATE // 2, np.float32), RATE)


def test_what_is_told_after_a_run_is_played_to_its_end() -> None:
    """Once, and nothing at all without words or without a loudspeaker."""
    machine, loud = Machine(load_parts("merlow-reserve").plan), _Loud()
    clock = start_clock()
    room = LiveRoom(machine, clock, lambda: None)
    room.equip(Speech(Mouth(_Flat()), loud, clock, room.put), None)
    room.tell("")
    room.tell("The left gyro takes longer.")
    LiveRoom(machine, start_clock(), lambda: None).tell("Nobody hears this.")
    assert loud.seconds == [0.5]


def test_an_errand_is_done_on_the_loops_thread_and_after_its_end_by_who_brings_it(tmp_path: Path) -> None:
    """In the order of the inbox; nobody waits for a loop that has ended."""
    parts, done = load_parts("merlow-reserve"), list[str]()
    with Logbook.open(tmp_path) as logbook, _begin(logbook, parts) as record:
        machine = Machine(parts.plan)
        room = LiveRoom(machine, start_clock(), lambda: None)
        errand = Errand(lambda: done.append(threading.current_thread().name))
        room.errand(errand)
        room.stop()
        loop = threading.Thread(
            target=run_live, args=(Session(machine, record.append, room), room), name="loop"
        )
        loop.start()
        assert errand.is_done.wait(20)
        loop.join(20)
        late = Errand(lambda: done.append(threading.current_thread().name))
        room.errand(late)
        assert late.is_done.is_set()
    assert done == ["loop", threading.current_thread().name]
