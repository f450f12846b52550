"""What the items of a run were answered, by its entries alone: the part of the fold that needs no check.

The core's progress has it (`fold.py`), the logbook makes its lists of it, a report shows all of it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from runner.core.record.entry import Entry, PutOff, RunAbandoned, RunCompleted
from runner.core.record.given_answer import GivenAnswer, answer_in, superseded_in
from runner.language.catalogue import Outcome


class RunState(StrEnum):
    """How far a run has come."""

    OPEN = "open"
    COMPLETE = "complete"
    ABANDONED = "abandoned"


Ending = RunCompleted | RunAbandoned


@dataclass(frozen=True, slots=True)
class AnswerHistory:
    """Every answer of a run, those that were taken back as well, and its end."""

    given: Mapping[str, tuple[GivenAnswer, ...]] = field(default_factory=dict)
    """By what they are filed under, oldest first; only the last one of each can stand."""
    put_off_at: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    """When each item was put off, in seconds since the epoch; items that never were are not in it."""
    ended: Ending | None = None

    @property
    def standing(self) -> Mapping[str, GivenAnswer]:
        """The answers that stand, by what they are filed under."""
        return {name: found[-1] for name, found in self.given.items() if found[-1].stands}

    @property
    def state(self) -> RunState:
        """Whether the run goes on, and how it ended."""
        return RunState.OPEN if self.ended is None else end_in(self.ended) or RunState.OPEN

    @property
    def ended_at(self) -> float | None:
        """In seconds since the epoch; None while the run is open."""
        return None if self.ended is None else self.ended.at

    def count(self, outcome: Outcome) -> int:
        """How many of what stands has this outcome."""
        return sum(answer.outcome is outcome for answer in self.standing.values())

    def after(self, entry: Entry) -> "AnswerHistory":
        """A later answer supersedes, a correction takes away, the end stays."""
        if (answer := answer_in(entry)) is not None:
            before = _superseded(self.given.get(answer.item, ()), entry.at)
            return self._with_given(answer.item, (*before, answer))
        if (name := superseded_in(entry)) is not None and name in self.given:
            return self._with_given(name, _superseded(self.given[name], entry.at))
        if isinstance(entry, PutOff):
            times = (*self.put_off_at.get(entry.item, ()), entry.at)
            return replace(self, put_off_at={**self.put_off_at, entry.item: times})
        return replace(self, ended=entry) if isinstance(entry, Ending) else self

    def _with_given(self, name: str, found: tuple[GivenAnswer, ...]) -> "AnswerHistory":
        return AnswerHistory({**self.given, name: found}, self.put_off_at, self.ended)


def _superseded(found: tuple[GivenAnswer, ...], at: float) -> tuple[GivenAnswer, ...]:
    if not found or not found[-1].stands:
        return found
    return (*found[:-1], replace(found[-1], superseded_at=at))


def history_of(entries: Iterable[Entry]) -> AnswerHistory:
    """The history that a record makes, of whatever check."""
    history = AnswerHistory()
    for entry in entries:
        history = history.after(entry)
    return history


def end_in(entry: Entry) -> RunState | None:
    """How the run ended, if this entry ended it."""
    if isinstance(entry, RunCompleted):
        return RunState.COMPLETE
    return RunState.ABANDONED if isinstance(entry, RunAbandoned) else None
