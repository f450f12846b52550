"""What the grid names as targets, and which of them a run has come to."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import get_args

from runner.core.event import Answered, Event
from runner.core.grid import table
from runner.core.grid.grid_cell import Cell, Relative, Target, is_at
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.grid.machine import Machine, Step
from runner.core.state import State
from runner.language.meaning import Command, Pulled, Stuck

Named = tuple[str, State, Target]
"""A row, a state, and a target of the cell where they meet."""


def grid() -> Iterator[tuple[str, State, Cell[object]]]:
    """Every cell that has an act, with its row and state."""
    rows: list[tuple[str, Mapping[State, Cell[object]]]] = [
        *((kind.__name__, row.cells) for kind, row in table.EVENTS.items()),
        *((word.value, row.cells) for word, row in table.WORDS.items()),
        ("Picked", table.PICKED.cells),
        ("Value", table.VALUE.cells),
        ("Corrected", table.CORRECTED.cells),
        *((kind.__name__, table.FLAG.cells) for kind in (Pulled, Stuck)),
    ]
    for name, cells in rows:
        for state, cell in cells.items():
            if cell.act is not None:
                yield name, state, cell


def named_targets() -> frozenset[Named]:
    """All targets that the grid names."""
    return frozenset((name, state, target) for name, state, cell in grid() for target in cell.targets)


def row_of(event: Event) -> str:
    """The row that an event falls into: its word, or its kind."""
    if not isinstance(event, Answered):
        return type(event).__name__
    if isinstance(event.meaning, Command):
        return event.meaning.word.value
    return type(event.meaning).__name__


def states_of(state: State, target: Target) -> frozenset[State]:
    """The states that a target stands for; what a hold, a note or a question interrupts is one of many."""
    if isinstance(target, State):
        return frozenset({target})
    if target is Relative.SAME:
        return frozenset({state})
    if target is Relative.NEXT:
        return frozenset({State.ASKING, State.WAITING})
    asked = {State.BRIEFING, State.ASKING, State.STOPPED, State.WAITING, State.RESTORING}
    return frozenset(asked if state is State.CONFIRMING else {*asked, State.CONFIRMING})


def targets_of(state: State) -> frozenset[State]:
    """States that one event may lead to."""
    targets = ((at, target) for _, at, cell in grid() for target in cell.targets if at is state)
    return frozenset[State]().union(*(states_of(at, target) for at, target in targets))


def reachable_from(states: Iterable[State]) -> frozenset[State]:
    """All states that some run of events leads to from these, themselves included."""
    found: set[State] = set()
    ahead = set(states)
    while ahead:
        found |= ahead
        ahead = {target for state in ahead for target in targets_of(state)} - found
    return frozenset(found)


def event_types() -> tuple[type[Event], ...]:
    """Every type of event that the machine takes."""
    return get_args(Event)


@dataclass
class Watch:
    """Which named targets the machines of a test have come to; put in the place of `Machine.handle`."""

    reached: set[Named] = field(default_factory=set)

    def step(self, moment: Moment, event: Event) -> tuple[Reply | None, Cell[object]]:
        """As the grid does it, with the moment kept."""
        reply, cell = _step(moment, event)
        self.last = (moment, cell) if reply is not None else None
        return reply, cell

    def handler(self) -> Callable[[Machine, Event], Step]:
        """To stand in the place of `Machine.handle`."""

        def handle(machine: Machine, event: Event) -> Step:
            return self.handle(machine, event)

        return handle

    def handle(self, machine: Machine, event: Event) -> Step:
        """As the machine does it, with every target noted that fits."""
        self.last = None
        result = _handle(machine, event)
        if self.last is not None:
            moment, cell = self.last
            for target in cell.targets:
                if is_at(target, machine.state, moment):
                    self.reached.add((row_of(event), moment.state, target))
        return result

    last: tuple[Moment, Cell[object]] | None = None


_step = table.step
_handle = Machine.handle
