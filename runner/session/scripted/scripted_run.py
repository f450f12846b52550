"""A whole run with a scripted pilot: the same machine, ear and record as live, on a simulated clock."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Protocol

from runner.core.ask.agenda import item_in_force
from runner.core.event import Answered, Channel, Event, Misheard, Started
from runner.core.grid.machine import Machine
from runner.core.record.entry import Entry
from runner.core.record.run_summary import Summary, summarise
from runner.core.state import State
from runner.errors import UsageError
from runner.session.live.interpreter import Interpreter
from runner.session.live.note_clip import ClipFolder
from runner.session.parts import Parts
from runner.session.scripted.pilot_script import PilotScript
from runner.session.scripted.scripted_pilot import Pilot, PilotMoment
from runner.session.scripted.scripted_world import Spoken, Studio, World
from runner.session.session import Session, Stage
from runner.voice.listen.listener import Listener
from runner.voice.port import Recogniser, Samples

LONGEST_SECONDS: Final = 2 * 3600.0
"""A scripted run that lasts longer has lost its way."""

POINTS: Final = {
    State.BRIEFING: "cautions",
    State.CONFIRMING: "confirm",
    State.HOLDING: "hold",
    State.NOTING: "note",
    State.WAITING: "waiting",
}


@dataclass(frozen=True, slots=True)
class Told:
    """One line of the exchange, as it is printed."""

    at: float
    """Seconds since the start of the run."""
    who: str
    """`eyesout`, `pilot`, `heard` or `keyed`."""
    text: str


@dataclass(frozen=True, slots=True)
class ScriptedRun:
    """What came of a scripted run."""

    summary: Summary
    state: State
    spoken: tuple[Spoken, ...]
    """Everything the pilot said and when: the truth."""
    heard: tuple[Answered | Misheard, ...]
    """Everything the ear made of it, and what was keyed."""
    tape: tuple[Samples, ...]
    """The whole exchange, block by block, at 16 kHz."""


class ScriptedRecord(Protocol):
    """A run's or a drill's record, open for writing."""

    @property
    def started_at(self) -> float:
        """When it began, seconds since the epoch."""
        ...

    def append(self, entry: Entry) -> None:
        """Put one entry on disk."""
        ...


@dataclass(frozen=True, slots=True)
class Cast:
    """Who takes part in a scripted run."""

    script: PilotScript
    studio: Studio
    recogniser: Recogniser
    clips: ClipFolder


MakeSession = Callable[[Machine, Callable[[Entry], None], Stage], Session]


def run_scripted(
    parts: Parts,
    cast: Cast,
    record: ScriptedRecord,
    tell: Callable[[Told], None],
    make_session: MakeSession = Session,
) -> ScriptedRun:
    """Run the check to its end. UsageError when the script does not fit the check."""
    machine = Machine(parts.plan)
    listener = Listener(cast.recogniser)
    start = record.started_at
    heard: list[Answered | Misheard] = []

    def get_moment(world: World) -> PilotMoment:
        clocks = {clock.item: clock.started_at for clock in machine.progress.open_clocks}
        spoke_until = world.spoken[-1].ended_at if world.spoken else start
        return PilotMoment(
            world.now, machine.turn, point_of(machine), world.silent_since, clocks, spoke_until
        )

    world = World(Pilot(cast.script), listener, cast.studio, start, get_moment, Interpreter(cast.clips.keep))
    session = make_session(machine, record.append, world)
    told = _Teller(tell, start)

    def take(event: Event) -> None:
        if isinstance(event, (Answered, Misheard)):
            heard.append(event)
            world.pilot.was_heard(is_taken=isinstance(event, Answered))
            told.heard(event)
        session.take(event)
        told.said(machine, event.at)

    take(Started(start))
    while not session.is_finished or world.silent_since is None:
        if world.now > start + LONGEST_SECONDS:
            raise UsageError(f"the scripted run did not end within {LONGEST_SECONDS / 3600:g} hours")
        spoken = len(world.spoken)
        world.step()
        told.spoken(world.spoken[spoken:])
        while world.events:
            take(world.events.popleft())
    return ScriptedRun(
        summarise(machine.progress, world.now),
        machine.state,
        tuple(world.spoken),
        tuple(heard),
        tuple(world.tape),
    )


def point_of(machine: Machine) -> str:
    """The name that a script has for what is asked now."""
    item = item_in_force(machine.progress)
    if machine.state in POINTS or item is None:
        return POINTS.get(machine.state, machine.state.value)
    return item.name


class _Teller:
    """Turns what happens into lines of the exchange."""

    def __init__(self, tell: Callable[[Told], None], start: float) -> None:
        self._tell, self._start = tell, start
        self._turn = -1

    def said(self, machine: Machine, at: float) -> None:
        if machine.turn != self._turn:
            self._turn = machine.turn
            self._tell(Told(at - self._start, "eyesout", machine.last_said))

    def spoken(self, lines: list[Spoken]) -> None:
        for spoken in lines:
            if spoken.line.key:
                continue
            words = spoken.line.say or f"[{spoken.line.wav.name if spoken.line.wav else ''}]"
            self._tell(Told(spoken.onset_at - self._start, "pilot", words))

    def heard(self, event: Answered | Misheard) -> None:
        sure = f"{event.confidence:.2f}"
        text = event.text if isinstance(event, Answered) else f"({event.reason.value})"
        if isinstance(event, Answered) and event.channel is Channel.KEYS:
            self._tell(Told(event.at - self._start, "keyed", text))
        else:
            self._tell(Told(event.at - self._start, "heard", f"{text}  {sure}"))
