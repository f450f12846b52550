"""PURE: what stands of a run after its entries: the last answer of each item, and whether it has ended."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from runner.checklist.format.check import Outcome
from runner.core.answer_origin import AnswerOrigin
from runner.core.event import Channel
from runner.core.record.entry import (
    AnswerRecorded,
    ClockEnded,
    ClockStarted,
    DeclaredUnable,
    Entry,
    Reopened,
    RunAbandoned,
    RunCompleted,
    Stopped,
    StopSquawked,
    StopWithdrawn,
)
from runner.language.catalogue import FlagEnd, Word


class RunState(StrEnum):
    """How far a run has come."""

    OPEN = "open"
    COMPLETE = "complete"
    ABANDONED = "abandoned"


class AnswerKind(StrEnum):
    """What an item was answered with."""

    NAMED = "named"
    READING = "reading"
    SPIN_UP = "spin-up"
    UNABLE = "unable"
    STOP = "stop"
    """No answer of the item: what stopped the run there, or the squawk that the pilot made of it."""


@dataclass(frozen=True, slots=True)
class StandingAnswer:
    """The answer that stands for an item."""

    item: str
    kind: AnswerKind
    answer: str
    """The response's label, the number as written, or what became of the flag."""
    value: float | None
    """The reading, or the spin-up in seconds; None for words."""
    unit: str
    outcome: Outcome | None
    """None for an item that the pilot was unable to do."""
    at: float
    """When it began, in seconds since the epoch; of a clock and a stop, when it went on record."""
    origin: AnswerOrigin | None = None
    """How it was given; None where an item could not be done, and of stops."""

    @property
    def response_seconds(self) -> float | None:
        """From the end of the challenge to the onset; None where that is not on record."""
        return None if self.origin is None else self.origin.response_seconds

    @property
    def is_hasty(self) -> bool:
        """Faster than a person can look."""
        return self.origin is not None and self.origin.is_hasty

    @property
    def is_keyed(self) -> bool:
        """Given by a key."""
        return self.origin is not None and self.origin.reception.channel == Channel.KEYS


@dataclass(frozen=True, slots=True)
class Standing:
    """A run's answers and its end."""

    answers: Mapping[str, StandingAnswer]
    state: RunState
    ended_at: float | None

    def count(self, outcome: Outcome) -> int:
        """How many items stand with this outcome."""
        return sum(answer.outcome is outcome for answer in self.answers.values())


def answer_in(entry: Entry) -> StandingAnswer | None:
    """The answer that an entry records, if it records one."""
    match entry:
        case AnswerRecorded():
            is_reading = bool(entry.unit)
            return StandingAnswer(
                entry.item,
                AnswerKind.READING if is_reading else AnswerKind.NAMED,
                entry.answer,
                float(entry.answer) if is_reading else None,
                entry.unit,
                entry.outcome,
                entry.origin.onset_at,
                entry.origin,
            )
        case ClockEnded():
            words = FlagEnd.of(is_pulled=entry.is_pulled)
            return StandingAnswer(
                entry.item,
                AnswerKind.SPIN_UP,
                words,
                entry.seconds,
                "seconds",
                entry.outcome,
                entry.at,
                AnswerOrigin(entry.at, None, is_hasty=False, reception=entry.reception),
            )
        case DeclaredUnable():
            return StandingAnswer(entry.item, AnswerKind.UNABLE, Word.UNABLE, None, "", None, entry.at)
        case Stopped():
            return _of_stop(entry, stop_name(entry.item), Outcome.STOP)
        case StopSquawked():
            return _of_stop(entry, stop_squawk_name(entry.item), Outcome.SQUAWK)
        case _:
            return None


def stop_name(item: str) -> str:
    """What a stop at this item is filed under, beside the item's own answer."""
    return f"{item} (stop)"


def stop_squawk_name(item: str) -> str:
    """What a squawk that the pilot made of a stop is filed under; the safe answer does not take it away."""
    return f"{item} (stop squawk)"


def _of_stop(entry: Stopped | StopSquawked, name: str, outcome: Outcome) -> StandingAnswer:
    words = f"{entry.answer} {entry.unit}".strip()
    return StandingAnswer(name, AnswerKind.STOP, words, None, "", outcome, entry.at)


def end_in(entry: Entry) -> RunState | None:
    """How the run ended, if this entry ended it."""
    if isinstance(entry, RunCompleted):
        return RunState.COMPLETE
    return RunState.ABANDONED if isinstance(entry, RunAbandoned) else None


def superseded_in(entry: Entry) -> str | None:
    """What no longer stands: an item that was reopened, a gyro that got power anew, a stop taken back."""
    if isinstance(entry, StopWithdrawn):
        return stop_name(entry.item)
    return entry.item if isinstance(entry, (Reopened, ClockStarted)) else None


def standing(entries: Iterable[Entry]) -> Standing:
    """Fold the entries: a later answer supersedes, a correction takes away, the end stays."""
    answers: dict[str, StandingAnswer] = {}
    state, ended_at = RunState.OPEN, None
    for entry in entries:
        answer = answer_in(entry)
        if answer is not None:
            answers[answer.item] = answer
        elif (item := superseded_in(entry)) is not None:
            answers.pop(item, None)
        elif (end := end_in(entry)) is not None:
            state, ended_at = end, entry.at
    return Standing(answers, state, ended_at)
