"""PURE: what stands of a run after its entries: the last answer of each item, and whether it has ended."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from runner.checklist.model import Outcome
from runner.core.entry import (
    AnswerRecorded,
    ClockEnded,
    ClockStarted,
    DeclaredUnable,
    Entry,
    Reopened,
    RunAbandoned,
    RunCompleted,
)

PULLED: Final = "flag pulled"
STUCK: Final = "flag stuck"
"""What became of a flag, in the record of answers."""


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


@dataclass(frozen=True, slots=True)
class Answer:
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
    response_seconds: float | None
    is_hasty: bool


@dataclass(frozen=True, slots=True)
class Standing:
    """A run's answers and its end."""

    answers: Mapping[str, Answer]
    state: RunState
    ended_at: float | None

    def count(self, outcome: Outcome) -> int:
        """How many items stand with this outcome."""
        return sum(answer.outcome is outcome for answer in self.answers.values())


def answer_in(entry: Entry) -> Answer | None:
    """The answer that an entry records, if it records one."""
    match entry:
        case AnswerRecorded():
            is_reading = bool(entry.unit)
            return Answer(
                entry.item,
                AnswerKind.READING if is_reading else AnswerKind.NAMED,
                entry.answer,
                float(entry.answer) if is_reading else None,
                entry.unit,
                entry.outcome,
                entry.onset_at,
                entry.response_seconds,
                entry.is_hasty,
            )
        case ClockEnded():
            words = PULLED if entry.is_pulled else STUCK
            return Answer(
                entry.item,
                AnswerKind.SPIN_UP,
                words,
                entry.seconds,
                "seconds",
                entry.outcome,
                entry.at,
                None,
                is_hasty=False,
            )
        case DeclaredUnable():
            kind = AnswerKind.UNABLE
            return Answer(entry.item, kind, "unable", None, "", None, entry.at, None, is_hasty=False)
        case _:
            return None


def end_in(entry: Entry) -> RunState | None:
    """How the run ended, if this entry ended it."""
    if isinstance(entry, RunCompleted):
        return RunState.COMPLETE
    return RunState.ABANDONED if isinstance(entry, RunAbandoned) else None


def superseded_in(entry: Entry) -> str | None:
    """The item whose answer no longer stands: it was reopened, or its gyro got power anew."""
    return entry.item if isinstance(entry, (Reopened, ClockStarted)) else None


def standing(entries: Iterable[Entry]) -> Standing:
    """Fold the entries: a later answer supersedes, a correction takes away, the end stays."""
    answers: dict[str, Answer] = {}
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
