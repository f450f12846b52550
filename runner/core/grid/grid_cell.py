"""Cells and rows of the grid: what one state does with one thing that happens, and where that may lead."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final, Generic, Never, ParamSpec, TypeVar

from runner.core.ask.agenda import interrupted_state
from runner.core.event import Answered, Event
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.grid.turn import counts
from runner.core.state import State

Act = TypeVar("Act")
Act_co = TypeVar("Act_co", covariant=True)
Happened = TypeVar("Happened", bound=Event)
Said = TypeVar("Said")
Moments = ParamSpec("Moments")

EventAct = Callable[[Moment, Happened], Reply | None]
"""What is done about an event; None when it is stale or changes nothing."""
AnswerAct = Callable[[Moment, Answered, Said], Reply | None]
"""What is done about something that was said or keyed; None when it is not meant for the tool."""


class Relative(StrEnum):
    """Targets that depend on where a run stands."""

    SAME = "the same"
    WHAT_WAS_ASKED = "what was asked"
    """The state that a hold, a note or a confirmation interrupted."""
    NEXT = "what comes next"
    """An item is asked, or clocks are waited for: which of them, the record tells."""


Target = State | Relative


def is_at(target: Target, reached: State, moment: Moment) -> bool:
    """Whether a step that began at this moment and came to this state has met the target."""
    match target:
        case Relative.SAME:
            return reached is moment.state
        case Relative.WHAT_WAS_ASKED:
            return reached is interrupted_state(moment.progress)
        case Relative.NEXT:
            return reached in (State.ASKING, State.WAITING)
        case _:
            return reached is target


@dataclass(frozen=True, slots=True)
class Cell(Generic[Act_co]):
    """What is done, and where it may lead when something is."""

    act: Act_co | None
    targets: tuple[Target, ...]

    def may_lead_to(self, reached: State, moment: Moment) -> bool:
        """Whether the state that a step has come to is one of the targets."""
        return any(is_at(target, reached, moment) for target in self.targets)


IGNORED: Final[Cell[Never]] = Cell(None, ())


def to(act: Act, *targets: Target) -> Cell[Act]:
    """A cell that does this and leads to one of these."""
    return Cell(act, targets)


def silently(act: Callable[Moments, Reply | None]) -> Callable[Moments, Reply | None]:
    """The same, on record and on the screen, with nothing spoken: the turn stays as it is."""

    def quiet(*moment: Moments.args, **more: Moments.kwargs) -> Reply | None:
        reply = act(*moment, **more)
        return None if reply is None else replace(reply, is_silent=True)

    quiet.__name__ = f"{getattr(act, '__name__', '')}_silently"
    return quiet


def in_states(*groups: tuple[Iterable[State], Cell[Act]]) -> Mapping[State, Cell[Act]]:
    """The cells of a row, a group of states at a time; a later group goes before an earlier one."""
    return {state: cell for states, cell in groups for state in states}


@dataclass(frozen=True, slots=True, eq=False)
class EventRow(Generic[Happened]):
    """What each state does with a kind of event."""

    kinds: tuple[type[Happened], ...]
    cells: Mapping[State, Cell[EventAct[Happened]]]

    def step(self, moment: Moment, event: Event) -> tuple[Reply | None, Cell[object]]:
        """The reply, and the cell that it comes from; TypeError for an event of another row."""
        if not isinstance(event, self.kinds):
            raise TypeError(f"{event} belongs into another row of the grid")
        cell = self.cells[moment.state]
        return None if cell.act is None else cell.act(moment, event), cell


@dataclass(frozen=True, slots=True, eq=False)
class AnswerRow(Generic[Said]):
    """What each state does with one kind of answer, or with one standard word."""

    cells: Mapping[State, Cell[AnswerAct[Said]]]
    """A state that does not listen for it has no cell."""
    is_lasting: bool = False
    """It means the same whatever is asked, so that it counts for a turn that has just passed."""

    def step(
        self, moment: Moment, event: Answered, said: Said, unheard: Cell[AnswerAct[Said]] = IGNORED
    ) -> tuple[Reply | None, Cell[object]]:
        """The reply, None for one that is stale, and the cell; `unheard` where the state does not listen."""
        cell = self.cells.get(moment.state, unheard)
        is_meant = counts(event, moment.turn, moment.before, is_lasting=self.is_lasting)
        return cell.act(moment, event, said) if cell.act is not None and is_meant else None, cell


def heard(
    *groups: tuple[Iterable[State], Cell[AnswerAct[Said]]], is_lasting: bool = False
) -> AnswerRow[Said]:
    """The row of something that these states listen for."""
    return AnswerRow(in_states(*groups), is_lasting)
