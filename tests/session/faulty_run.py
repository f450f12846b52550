"""A whole check through the real loop with ports that fail, and everything that must hold afterwards."""

import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from runner.core.ask.agenda import state_of, unreturned
from runner.core.event import Event, Port, Ticked
from runner.core.grid.machine import Machine
from runner.core.record.codec import from_json, to_json
from runner.core.record.entry import ClockAdvised, ClockEnded, Entry, PortChanged
from runner.core.record.fold import fold
from runner.core.state import State
from runner.errors import RecordError
from runner.session.live.attendant import Attendant
from runner.session.live.ear_thread import EarThread
from runner.session.live.live_room import LiveRoom, run_live
from runner.session.live.prompt_mouth import Mouth
from runner.session.live.scribe import Scribe
from runner.session.live.speech import Speech
from runner.session.session import Session
from runner.voice.listen.listener import Listener
from runner.voice.listen.result import Level, Recorded, Result, UtteranceHeard
from runner.voice.port import RATE, Block, Samples, Sound
from runner.voice.port import Hearing as Utterance
from tests.core.sample import PLAN
from tests.session.fault import Kind, Place, Plan
from tests.session.hands import SPEECH_SECONDS, SaidBlock, SimulatedPilot, flags_of, power_on_of, quiet
from tests.session.simulation import EVER, Simulation

START: Final = 1796280000.0
PROMPT_SECONDS: Final = 1.0
LONGEST_SECONDS: Final = 1800.0
"""No run takes so long, whatever fails."""
GAP_SECONDS: Final = 1.0
"""Between two ticks, whatever hangs."""


class _Ear(Listener):
    """Reads the words that a simulated block carries."""

    def __init__(self, simulation: Simulation, plan: Plan) -> None:
        self._simulation, self._plan = simulation, plan
        self._phrases: Sequence[str] = ()
        self._number, self._is_note, self._is_gated = 0, False, False

    @property
    def is_hearing(self) -> bool:
        """Words come in one block."""
        return False

    def expect(self, turn: int, phrases: Sequence[str]) -> None:
        """From now on these."""
        self._plan.meet(self._simulation, Place.EAR)
        self._number, self._phrases, self._is_note = turn, phrases, False

    def record(self, turn: int) -> None:
        """The next words are a note."""
        self._plan.meet(self._simulation, Place.EAR)
        self._number, self._is_note = turn, True

    def close_note(self, at: float) -> list[Result]:
        """An empty one, where none was spoken."""
        self._plan.meet(self._simulation, Place.EAR)
        was_note, self._is_note = self._is_note, False
        return [Recorded(self._number, np.zeros(0, np.float32), at, at)] if was_note else []

    def start_over(self) -> None:
        """Nothing is kept."""

    def playback_started(self) -> None:
        """The gate closes."""
        self._is_gated = True

    def playback_ended(self, at: float) -> None:
        """And opens."""
        assert at <= self._simulation.now()
        self._is_gated = False

    def hear(self, block: Block) -> list[Result]:
        """What the words are, if they are listened for."""
        self._plan.meet(self._simulation, Place.EAR)
        at, text = self._simulation.now(), block.text if isinstance(block, SaidBlock) else ""
        level: Result = Level(at, -40.0, -60.0, is_speech=bool(text), is_gated=self._is_gated)
        if not text or self._is_gated:
            return [level]
        if self._is_note:
            self._is_note = False
            return [Recorded(self._number, block.samples, block.started_at, at), level]
        if not self._phrases:
            return [level]
        known = text if text in self._phrases else None
        said = Utterance(known, 0.95, block.started_at, block.started_at + SPEECH_SECONDS, 0.0)
        return [UtteranceHeard(self._number, said, at), level]


class _Voice:
    """A second of silence for any sentence."""

    name = "simulated"

    def __init__(self, simulation: Simulation, plan: Plan) -> None:
        self._simulation, self._plan = simulation, plan

    def render(self, text: str) -> Sound:
        """Whatever it is."""
        assert text
        self._plan.meet(self._simulation, Place.MOUTH)
        return Sound(np.zeros(round(PROMPT_SECONDS * RATE / 10), np.float32), RATE // 10)


class _Loudspeaker:
    """Ends a sound when its time is over, or never."""

    def __init__(self, simulation: Simulation, plan: Plan) -> None:
        self._simulation, self._plan = simulation, plan
        self._ended: Callable[[], None] = lambda: None

    def play(self, sound: Sound, ended: Callable[[float], None]) -> None:
        """Cut short what plays now; the end of this one may fail to be told as well."""
        self.stop()
        is_told = threading.Event()

        def tell() -> None:
            if not is_told.is_set():
                is_told.set()
                ended(self._simulation.now())

        self._ended = tell
        self._plan.meet(self._simulation, Place.SPEAKER)
        if self._plan.draw(self._simulation, Place.SPEAKER, is_noticed=False) is None:
            self._simulation.at(self._simulation.now() + sound.seconds, tell)

    def stop(self) -> None:
        """Now."""
        self._ended()
        self._ended = lambda: None

    def close(self) -> None:
        """Nothing is held."""


class _Microphone:
    """A block a second, until it fails; what a pilot says is lost while it is silent."""

    def __init__(self, simulation: Simulation, plan: Plan, hearing: EarThread) -> None:
        self._simulation, self._plan, self._hearing = simulation, plan, hearing
        self._silent_until = 0.0

    def begin(self) -> None:
        """A block now and every second."""
        self.deliver(quiet(self._simulation.now()))
        self._simulation.at(self._simulation.now() + 1.0, self.begin)

    def deliver(self, block: SaidBlock) -> None:
        """To the ear, unless the library raises or nothing comes of it."""
        if self._simulation.now() < self._silent_until:
            return
        kind = self._plan.draw(self._simulation, Place.MICROPHONE)
        if kind is Kind.RAISES:
            self._hearing.microphone_failed("OSError: the microphone let us down")
        elif kind is Kind.HANGS:
            self._silent_until = EVER
        elif kind is Kind.LATE:
            self._silent_until = self._simulation.now() + self._plan.late(Place.MICROPHONE)
        else:
            self._hearing.deliver(block)


@dataclass
class FaultyRun:
    """One run; `violations` says what should not have come of it."""

    plan: Plan
    disk: list[dict[str, object]] = field(default_factory=list)
    stopped_by: RecordError | None = None
    violations: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        before = set(threading.enumerate())
        self.simulation = Simulation(START)
        self.machine = Machine(PLAN)
        self.room = _WatchedRoom(self)
        self.ticked_at = [START]
        self.handed_on = 0
        self._run()
        self._check_end()
        self._check_record()
        self._check_clocks()
        left = [thread.name for thread in threading.enumerate() if thread not in before]
        self._require(not left, f"threads left: {left}")

    @property
    def entries(self) -> tuple[Entry, ...]:
        """What is on disk."""
        return tuple(from_json(line) for line in self.disk)

    def append(self, entry: Entry) -> None:
        """The record, on its own thread: written at the end of a call that comes back."""
        try:
            self.plan.meet(self.simulation, Place.RECORD)
            self.disk.append(dict(to_json(entry)))
        finally:
            self.simulation.wrote()

    def keep_clip(self, _samples: Samples) -> str:
        """A note's clip."""
        self.plan.meet(self.simulation, Place.CLIP)
        return "clip.wav"

    def draw(self) -> None:
        """The screen."""
        self.plan.meet(self.simulation, Place.SCREEN)

    def _run(self) -> None:
        simulation, plan, room = self.simulation, self.plan, self.room
        speech = Speech(Mouth(_Voice(simulation, plan)), _Loudspeaker(simulation, plan), simulation, room.put)
        hearing = EarThread(_Ear(simulation, plan), room.put, self.keep_clip, simulation)
        room.equip(speech, hearing)
        room.screen = Attendant(Port.SCREEN, simulation, room.put)
        simulation.attendants = [*speech.attendants, *hearing.attendants, room.screen]
        scribe = Scribe(self.append, simulation)

        def append(entry: Entry) -> None:
            self.handed_on += 1
            with simulation.writing():
                scribe.append(entry)

        microphone = _Microphone(simulation, plan, hearing)
        pilot = SimulatedPilot(simulation, self.machine, room, microphone.deliver)
        self.onsets = pilot.onsets
        hearing.start()
        microphone.begin()
        pilot.begin()
        simulation.at(START + LONGEST_SECONDS, room.stop)
        try:
            self.is_over = run_live(_WatchedSession(self, append), room)
        except RecordError as error:
            self.is_over, self.stopped_by = False, error
        finally:
            simulation.end()
            closed = [speech.close(), hearing.close(), room.screen.close(), scribe.close()]
            self._require(all(closed), f"not closed: {closed}")

    def _require(self, is_so: bool, words: str) -> None:  # noqa: FBT001 - as an assertion
        if not is_so:
            self.violations.append(words)

    def _check_end(self) -> None:
        record_failed = any(place is Place.RECORD for _, place, _ in self.plan.happened)
        if self.stopped_by is None:
            self._require(self.is_over, f"stuck in {self.machine.state}")
            self._require(self.machine.state is State.COMPLETE, f"ended {self.machine.state}")
            return
        self._require(record_failed, f"stopped without reason: {self.stopped_by}")
        is_out = any(True for _ in unreturned(self.machine.progress))
        self._require("The run stops here" in str(self.stopped_by), "no reason is told")
        self._require(("Put back yourself" in str(self.stopped_by)) == is_out, "the selector is forgotten")

    def _check_record(self) -> None:
        replayed = fold(PLAN, self.entries)
        if self.stopped_by is None:
            self._require(replayed == self.machine.progress, "the record gives another state")
            self._require(state_of(replayed) is self.machine.state, "the record gives another state")
        lost = {
            entry.port.value for entry in self.entries if isinstance(entry, PortChanged) and entry.is_lost
        }
        ended_at = self.ticked_at[-1] - 30.0
        for at, place, kind in self.plan.happened:
            is_told = place is Place.RECORD or kind is Kind.LATE or at > ended_at or place.value in lost
            self._require(is_told, f"nothing on record of the {place} that {kind}")

    def _check_clocks(self) -> None:
        for entry in self.entries:
            if isinstance(entry, ClockEnded):
                true = [
                    off - on for on in power_on_of(self.onsets) for off in flags_of(self.onsets, entry.item)
                ]
                is_true = any(abs(entry.seconds - seconds) < 0.002 for seconds in true)
                self._require(is_true, f"{entry.item}: {entry.seconds} s, said after {true}")
        if any(place is Place.RECORD for _, place, _ in self.plan.happened):
            return
        gaps = [later - earlier for earlier, later in zip(self.ticked_at, self.ticked_at[1:], strict=False)]
        self._require(max(gaps, default=0.0) <= GAP_SECONDS, f"no tick for {max(gaps, default=0.0):.1f} s")
        advised = [entry.item for entry in self.entries if isinstance(entry, ClockAdvised)]
        self._require(advised == ["left flag", "right flag"], f"advised of {advised}")


class _WatchedRoom(LiveRoom):
    """Looks, at everything that is said, whether all that it may rest on is on disk."""

    def __init__(self, run: FaultyRun) -> None:
        super().__init__(run.machine, run.simulation, self._draw, run.simulation)
        self._run = run

    def say(self, turn: int, text: str, read_back: tuple[str, ...] = ()) -> None:
        """Nothing is said of an entry that is not there."""
        self._run._require(len(self._run.disk) == self._run.handed_on, f"said before it was written: {text}")
        super().say(turn, text, read_back)

    def _draw(self) -> None:
        if self.screen is not None and not self.screen.is_stuck:
            self.screen.ask(self._run.draw)


class _WatchedSession(Session):
    """Notes when time was told."""

    def __init__(self, run: FaultyRun, append: Callable[[Entry], None]) -> None:
        super().__init__(run.machine, append, run.room)
        self._run = run

    def take(self, event: Event) -> None:
        """As ever."""
        if isinstance(event, Ticked):
            self._run.ticked_at.append(event.at)
        super().take(event)


def spin_ups(run: FaultyRun) -> Iterator[tuple[str, float]]:
    """Each gyro's seconds, as recorded."""
    for entry in run.entries:
        if isinstance(entry, ClockEnded):
            yield entry.item, entry.seconds
