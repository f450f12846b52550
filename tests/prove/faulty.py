"""Machines with one fault each: a return lost, a danger passed, a caution swallowed."""

from collections.abc import Callable
from dataclasses import replace

from runner.core.effect import Append, Effect
from runner.core.event import Event
from runner.core.grid.machine import Machine
from runner.core.record.entry import (
    AbandonStarted,
    AnswerRecorded,
    ClockEnded,
    DeclaredUnable,
    Entry,
    Interrupted,
    NoteRecorded,
    PutOff,
    Released,
    Reopened,
    Stopped,
    StopRetried,
)
from runner.core.record.progress import Progress
from runner.core.state import State
from runner.language.catalogue import Outcome
from runner.prove.happening import NOW

Fault = Callable[[Progress], Progress]


def without_moves(progress: Progress) -> Progress:
    """Everything that is out is forgotten."""
    return replace(progress, moves=())


def without_first_move(progress: Progress) -> Progress:
    """What was moved first is forgotten: the last to be asked back."""
    return replace(progress, moves=progress.moves[1:])


def passed_by(progress: Progress) -> Progress:
    """The stop does not stand, and its item is left undone."""
    return replace(progress, stops=()).after(DeclaredUnable(NOW, progress.stops[-1].item))


def faulty_after(kind: type[Entry], fault: Fault) -> type[Machine]:
    """A machine with this fault in what it knows, after each entry of this kind."""

    class Faulty(Machine):
        def handle(self, event: Event) -> tuple[State, tuple[Effect, ...]]:
            _, effects = super().handle(event)
            if any(isinstance(effect, Append) and isinstance(effect.entry, kind) for effect in effects):
                self.progress = fault(self.progress)
            return self.state, effects

    return Faulty


class Lenient(Machine):
    """A machine that writes a caution down as a pass."""

    def handle(self, event: Event) -> tuple[State, tuple[Effect, ...]]:
        """As the real one, but for the outcome."""
        state, effects = super().handle(event)
        return state, tuple(map(_lenient, effects))


def _lenient(effect: Effect) -> Effect:
    entry = effect.entry if isinstance(effect, Append) else None
    if isinstance(entry, AnswerRecorded) and entry.outcome is Outcome.CAUTION:
        return Append(replace(entry, outcome=Outcome.PASS))
    return effect


MOVES_LOST_AFTER = (
    *(AnswerRecorded, ClockEnded, DeclaredUnable, PutOff, Stopped, StopRetried),
    *(Reopened, Released, NoteRecorded, Interrupted, AbandonStarted),
)
"""Kinds of entries after which a machine may forget what is out of its place."""

MACHINES: dict[str, type[Machine]] = {
    "none": Machine,
    "a stop passed": faulty_after(Stopped, passed_by),
    "the caution swallowed": Lenient,
    **{f"returns lost by {kind.__name__}": faulty_after(kind, without_moves) for kind in MOVES_LOST_AFTER},
    **{
        f"one return lost by {kind.__name__}": faulty_after(kind, without_first_move)
        for kind in MOVES_LOST_AFTER
    },
}
"""Machines by their fault."""
