"""The walk: every moment that a run can come to, each kind once, by the shortest way.

The machine is the real one. A stop of the program and a resume are walked as the fold that they are: a new
machine with the progress of the entries that were on disk, and Started. (That a record's fold is the
progress is held by the tests of the core, at every step.)
"""

from collections import deque
from collections.abc import Hashable, Iterator
from copy import copy
from dataclasses import dataclass, field

from runner.checklist.format.check import Outcome
from runner.core.ask.agenda import item_in_force, state_of
from runner.core.effect import Append
from runner.core.event import Answered, Channel, Event, Started
from runner.core.grid.machine import Machine
from runner.core.plan import Plan
from runner.core.record.entry import Entry
from runner.core.record.progress import Progress
from runner.core.state import FINAL, State
from runner.language.meaning import Command, Word
from runner.prove.alike import MOST_PUT_OFF, Roles, is_behind, roles_of
from runner.prove.happening import NOW, Happening, ProofWorld
from runner.prove.owing import Owing

DENIALS = (Command(Word.NEGATIVE), Command(Word.DISREGARD))
"""Words that take back what was just read back."""
INTERRUPTIONS = (Command(Word.STANDBY), Command(Word.NOTE))
RESUMED = "(the program stops and the run is resumed)"


@dataclass(frozen=True, slots=True)
class WalkPoint:
    """One moment of a run, and the step that led to it first."""

    machine: Machine
    owing: Owing
    parent: int
    """Number of the point before; -1 at the start."""
    words: str


@dataclass(frozen=True, slots=True)
class Failure:
    """The machine broke."""

    parent: int
    words: str
    error: Exception


@dataclass(slots=True)
class Walk:
    """All points in the order of their distance from the start, and which leads to which."""

    plan: Plan
    points: list[WalkPoint] = field(default_factory=list)
    following: list[list[int]] = field(default_factory=list)
    """For each point the points that one step leads to."""
    entries: set[tuple[type[Entry], str, str, Outcome | None]] = field(default_factory=set)
    """Every entry that a step made: its kind, its item, the item in force before it, and its outcome."""
    failures: list[Failure] = field(default_factory=list)

    def state(self, number: int) -> State:
        """The state of a point."""
        return self.points[number].machine.state

    def ends(self) -> Iterator[int]:
        """Numbers of the points at which a run is over."""
        return (number for number in range(len(self.points)) if self.state(number) in FINAL)

    def way(self, number: int) -> tuple[str, ...]:
        """What was said and what happened from the start to a point."""
        steps: list[str] = []
        while number >= 0:
            steps.append(self.points[number].words)
            number = self.points[number].parent
        return tuple(reversed(steps))


def walk(plan: Plan, make: type[Machine] = Machine, put_off: int = MOST_PUT_OFF) -> Walk:
    """Every moment that a run of the plan can come to, with so many items put off at a time at most."""
    return _Walker(plan, make, put_off).walk()


class _Walker:
    def __init__(self, plan: Plan, make: type[Machine], put_off: int) -> None:
        self.plan, self.make, self.put_off = plan, make, put_off
        self.roles: Roles = roles_of(plan)
        self.world = ProofWorld(plan)
        self.walked = Walk(plan)
        self.known: dict[Hashable, int] = {}
        self.denied: set[Hashable] = set()
        self.unvisited: deque[int] = deque()

    def walk(self) -> Walk:
        self._try(-1, "(the run is started)", Owing(), self.make(self.plan), Started(NOW))
        while self.unvisited:
            number = self.unvisited.popleft()
            point = self.walked.points[number]
            if point.machine.state in FINAL:
                continue
            for happening in self.world.happenings(point.machine.progress, point.machine.turn):
                if not self._is_beyond(happening, point.machine):
                    machine = copy(point.machine)
                    machine.progress = happening.progress
                    self._try(number, happening.words, point.owing, machine, happening.event)
            self._resume(number, point.owing, point.machine.progress)
        return self.walked

    def _try(self, parent: int, words: str, owing: Owing, machine: Machine, event: Event) -> None:
        """One step; what it puts on record may be cut short by a stop of the program.

        A resume need not be cut short: its first entry leaves the progress as it was before.
        """
        before = machine.progress
        try:
            _, effects = machine.handle(event)
        except Exception as error:  # noqa: BLE001 - whatever breaks the machine is what the walk looks for
            self.walked.failures.append(Failure(parent, words, error))
            return
        if not effects or (machine.progress is before and not machine.reads_back):
            return
        entries = [effect.entry for effect in effects if isinstance(effect, Append)]
        after = owing.after(self.plan, entries, machine.progress)
        self._reach(parent, words, after, machine)
        self._note(entries, before)
        self._deny(parent, words, after, machine)
        if isinstance(event, Started):
            return
        for entry in entries[:-1]:
            before = before.after(entry)
            owing = owing.with_entry(self.plan, entry)
            self._resume(parent, owing, before, f"{words}, cut short")

    def _deny(self, parent: int, words: str, owing: Owing, machine: Machine) -> None:
        """What was read back is denied in the next breath: moments are told apart otherwise without it."""
        if not machine.reads_back or is_behind(machine.progress):
            return
        key = (machine.reads_back, self.roles.kind(machine.progress, owing))
        if key not in self.denied:
            self.denied.add(key)
            event = Answered(NOW, machine.turn, Command(Word.NEGATIVE), "negative", 1.0, NOW, Channel.KEYS)
            self._try(parent, f"{words}, negative", owing, copy(machine), event)

    def _resume(self, parent: int, owing: Owing, progress: Progress, words: str = "") -> None:
        machine = self.make(self.plan)
        machine.progress = progress
        self._try(parent, f"{words} {RESUMED}".strip(), owing, machine, Started(NOW))

    def _reach(self, parent: int, words: str, owing: Owing, machine: Machine) -> None:
        kind = self.roles.kind(machine.progress, owing)
        number = self.known.get(kind)
        if number is None:
            number = self.known[kind] = len(self.walked.points)
            self.walked.points.append(WalkPoint(machine, owing, parent, words))
            self.walked.following.append([])
            self.unvisited.append(number)
        if parent >= 0:
            self.walked.following[parent].append(number)

    def _note(self, entries: list[Entry], before: Progress) -> None:
        asked = item_in_force(before)
        for entry in entries:
            outcome = getattr(entry, "outcome", None)
            name = "" if asked is None else asked.name
            self.walked.entries.add((type(entry), getattr(entry, "item", ""), name, outcome))

    def _is_beyond(self, happening: Happening, machine: Machine) -> bool:
        """Beyond the bounds of the walk (`alike.py`)."""
        meaning = happening.event.meaning if isinstance(happening.event, Answered) else None
        if meaning == Command(Word.PUT_OFF):
            return len(happening.progress.put_off) >= self.put_off
        if meaning in INTERRUPTIONS and happening.progress.pending is not None:
            return not happening.progress.pending.item
        is_dropping = state_of(happening.progress) is State.CONFIRMING
        is_correcting = meaning == Command(Word.CORRECTION) or (machine.reads_back and meaning in DENIALS)
        return bool(is_correcting) and not is_dropping and is_behind(happening.progress)
