"""The walk: every moment that a run can come to, each kind once, by the shortest way.

The machine is the real one. A stop of the program and a resume are walked as the fold that they are: a new
machine with the progress of the entries that were on disk, and Started. (That a record's fold is the
progress is held by the tests of the core, at every step.)

Two things keep it short. What a glance (`glance.py`) has shown to put nothing on record, or the same as
something else, is not tried again in later moments that look the same. And of moments that differ only in
what was done last (twins) the later ones are walked on by corrections alone, and by what keeps it the last.

A hold and a note change nothing but `held` and `noting`, at which no row looks but those that end them; so
they are entered in the first moment of a glance, and once for each item with what may be owed there. The
question whether to abandon is entered likewise, and once for each thing that an abandoned check would ask.
"""

from collections import deque
from collections.abc import Hashable, Iterator
from copy import copy
from dataclasses import dataclass, field

from runner.core.ask.agenda import item_in_force, state_of
from runner.core.effect import Append
from runner.core.event import Answered, Channel, Event, Started
from runner.core.grid.machine import Machine
from runner.core.plan import Plan
from runner.core.record.entry import AnswerRecorded, Entry
from runner.core.record.progress import Progress
from runner.core.state import FINAL, State
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Command
from runner.prove.alike import MOST_PUT_OFF, Roles, is_behind, roles_of
from runner.prove.glance import Glances, passing, word_of
from runner.prove.happening import NOW, Happening, ProofWorld
from runner.prove.owing import Owing

DENIALS = frozenset({Word.NEGATIVE, Word.DISREGARD})
"""Words that take back what was just read back."""
KEEPING_THE_LAST = frozenset({Word.CORRECTION, Word.PUT_OFF, Word.ABANDON})
"""What may lead twins to different kinds: a correction, and what leaves the last thing done as it was."""
RESUMED = "(the program stops and the run is resumed)"

Seen = dict[frozenset[str], int]
"""The points of one kind, by the clocks that run."""


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
    judged: set[tuple[str, str, Outcome]] = field(default_factory=set)
    """Every answer that a step put on record: its item, the answer, and the outcome that it was given."""
    failures: list[Failure] = field(default_factory=list)
    twins: dict[int, int] = field(default_factory=dict)
    """Points that differ from an earlier one only in what was done last, with that one."""
    covered: list[tuple[int, int]] = field(default_factory=list)
    """Points with a step to a moment that another point covers, and that point."""

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


def walk(
    plan: Plan, make: type[Machine] = Machine, put_off: int = MOST_PUT_OFF, *, is_exact: bool = False
) -> Walk:
    """Every moment that a run of the plan can come to, with so many items put off at a time at most.

    The exact walk tells orders of moves apart and tries everything everywhere; small checks only can bear it.
    """
    return _Walker(plan, make, put_off, is_exact=is_exact).walk()


class _Walker:
    def __init__(self, plan: Plan, make: type[Machine], put_off: int, *, is_exact: bool) -> None:
        self.plan, self.make, self.put_off = plan, make, put_off
        self.roles: Roles = roles_of(plan, is_exact=is_exact)
        self.world = ProofWorld(plan)
        self.glances = Glances(self.roles)
        self.walked = Walk(plan)
        self.known: dict[Hashable, Seen] = {}
        self.first: dict[Hashable, Seen] = {}
        self.denied: set[Hashable] = set()
        self.passed: set[Hashable] = set()
        self.unvisited: deque[int] = deque()

    def walk(self) -> Walk:
        self._try(-1, "(the run is started)", Owing(), self.make(self.plan), Started(NOW))
        while self.unvisited:
            number = self.unvisited.popleft()
            if self.walked.state(number) not in FINAL:
                self._visit(number)
        return self.walked

    def _visit(self, number: int) -> None:
        point = self.walked.points[number]
        progress = point.machine.progress
        happenings = self.world.happenings(progress, point.machine.turn)
        possible = (each for each in happenings if not self._is_beyond(each, point.machine))
        if self.glances.is_new(progress):
            tried = [(happening, self._happen(number, happening)) for happening in possible]
            self.glances.learn(progress, tried)
            self._resume(number, point.owing, progress)
        elif number in self.walked.twins:
            for happening in possible:
                if word_of(happening) in KEEPING_THE_LAST and self._is_due(passing(happening), point):
                    self._happen(number, happening)
        else:
            for happening in possible:
                if self.glances.tells(happening, progress) and self._is_due(passing(happening), point):
                    self._happen(number, happening)
            if self._is_due(RESUMED, point):
                self._resume(number, point.owing, progress)

    def _is_due(self, happens: Hashable, point: WalkPoint) -> bool:
        """Whether to try something that passes by once more; all that stays is always due."""
        if happens is None:
            return True
        passed = self.roles.passed(happens, point.machine.progress, point.owing)
        is_new = passed not in self.passed
        self.passed.add(passed)
        return is_new

    def _happen(self, number: int, happening: Happening) -> tuple[Entry, ...]:
        point = self.walked.points[number]
        machine = copy(point.machine)
        machine.progress = happening.progress
        return self._try(number, happening.words, point.owing, machine, happening.event)

    def _try(
        self, parent: int, words: str, owing: Owing, machine: Machine, event: Event
    ) -> tuple[Entry, ...]:
        """One step and what it put on record; that may be cut short by a stop of the program.

        A resume need not be cut short: its first entry leaves the progress as it was before.
        """
        before = machine.progress
        try:
            _, effects = machine.handle(event)
        except Exception as error:  # noqa: BLE001 - whatever breaks the machine is what the walk looks for
            self.walked.failures.append(Failure(parent, words, error))
            return ()
        entries = tuple(effect.entry for effect in effects if isinstance(effect, Append))
        if not effects or (machine.progress is before and not machine.reads_back):
            return entries
        after = owing.after(self.plan, entries, machine.progress)
        self._reach(parent, words, after, machine)
        self._note(entries, before)
        self._deny(parent, words, after, machine)
        for entry in () if isinstance(event, Started) else entries[:-1]:
            before = before.after(entry)
            owing = owing.with_entry(self.plan, entry)
            self._resume(parent, owing, before, f"{words}, cut short")
        return entries

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
        key = kind, self.roles.last(machine.progress)
        running = self.roles.running(machine.progress)
        seen = self.known.setdefault(key, {})
        number = seen.get(running)
        if number is None:
            cover = next((other for more, other in seen.items() if running < more), None)
            if cover is not None and not self.glances.is_new(machine.progress):
                self.walked.covered.append((parent, cover))
                return
            number = seen[running] = len(self.walked.points)
            self._add(
                WalkPoint(machine, owing, parent, words),
                number,
                key if self.roles.is_exact else kind,
                running,
            )
        if parent >= 0:
            self.walked.following[parent].append(number)

    def _add(self, point: WalkPoint, number: int, kind: Hashable, running: frozenset[str]) -> None:
        self.walked.points.append(point)
        self.walked.following.append([])
        self.unvisited.append(number)
        seen = self.first.setdefault(kind, {})
        first = next((first for more, first in seen.items() if running <= more), None)
        if first is None:
            seen[running] = number
        else:
            self.walked.twins[number] = first

    def _note(self, entries: tuple[Entry, ...], before: Progress) -> None:
        asked = item_in_force(before)
        for entry in entries:
            outcome = getattr(entry, "outcome", None)
            name = "" if asked is None else asked.name
            self.walked.entries.add((type(entry), getattr(entry, "item", ""), name, outcome))
            if isinstance(entry, AnswerRecorded):
                self.walked.judged.add((entry.item, entry.answer, entry.outcome))

    def _is_beyond(self, happening: Happening, machine: Machine) -> bool:
        """Beyond the bounds of the walk (`alike.py`)."""
        word = word_of(happening)
        if word is Word.PUT_OFF:
            return len(happening.progress.put_off) >= self.put_off
        if word in (Word.STANDBY, Word.NOTE) and happening.progress.pending is not None:
            return not happening.progress.pending.item
        is_dropping = state_of(happening.progress) is State.CONFIRMING
        is_correcting = word is Word.CORRECTION or (machine.reads_back and word in DENIALS)
        return bool(is_correcting) and not is_dropping and is_behind(happening.progress)
