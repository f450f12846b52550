"""Answers as the entries of a run give them and take them back, whatever the check."""

from dataclasses import dataclass
from enum import StrEnum

from runner.core.answer_origin import AnswerOrigin
from runner.core.event import Channel
from runner.core.record.entry import (
    AnswerRecorded,
    ClockEnded,
    ClockStarted,
    DeclaredUnable,
    Entry,
    Reopened,
    Stopped,
    StopSquawked,
    StopWithdrawn,
)
from runner.language.catalogue import FlagEnd, Outcome, Word


class AnswerKind(StrEnum):
    """What an item was answered with."""

    NAMED = "named"
    READING = "reading"
    SPIN_UP = "spin-up"
    UNABLE = "unable"
    STOP = "stop"
    """No answer of the item: what stopped the run there, or the squawk that the pilot made of it."""


@dataclass(frozen=True, slots=True)
class GivenAnswer:
    """One answer that an item got, whether it stands or not."""

    item: str
    """What it is filed under: the item, or what `stop_name` and `stop_squawk_name` make of it."""
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
    superseded_at: float | None = None
    """When it was reopened or answered anew, or its gyro got power anew; None while it stands."""

    @property
    def stands(self) -> bool:
        """Whether nothing has taken it back."""
        return self.superseded_at is None

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


def answer_in(entry: Entry) -> GivenAnswer | None:
    """The answer that an entry records, if it records one."""
    match entry:
        case AnswerRecorded(item=item, answer=words, unit=unit, outcome=outcome, origin=origin):
            kind, value = (AnswerKind.READING, float(words)) if unit else (AnswerKind.NAMED, None)
            return GivenAnswer(item, kind, words, value, unit, outcome, origin.onset_at, origin)
        case ClockEnded(at=at, item=item, seconds=seconds, outcome=outcome):
            words = FlagEnd.of(is_pulled=entry.is_pulled)
            origin = AnswerOrigin(at, None, is_hasty=False, reception=entry.reception)
            return GivenAnswer(item, AnswerKind.SPIN_UP, words, seconds, "seconds", outcome, at, origin)
        case DeclaredUnable(at=at, item=item):
            return GivenAnswer(item, AnswerKind.UNABLE, Word.UNABLE, None, "", None, at)
        case Stopped(item=item):
            return _of_stop(entry, stop_name(item), Outcome.STOP)
        case StopSquawked(item=item):
            return _of_stop(entry, stop_squawk_name(item), Outcome.SQUAWK)
        case _:
            return None


def stop_name(item: str) -> str:
    """What a stop at this item is filed under, beside the item's own answer."""
    return f"{item} (stop)"


def stop_squawk_name(item: str) -> str:
    """What a squawk that the pilot made of a stop is filed under; the safe answer does not take it away."""
    return f"{item} (stop squawk)"


def _of_stop(entry: Stopped | StopSquawked, name: str, outcome: Outcome) -> GivenAnswer:
    words = f"{entry.answer} {entry.unit}".strip()
    return GivenAnswer(name, AnswerKind.STOP, words, None, "", outcome, entry.at)


def superseded_in(entry: Entry) -> str | None:
    """What no longer stands: an item that was reopened, a gyro that got power anew, a stop taken back."""
    if isinstance(entry, StopWithdrawn):
        return stop_name(entry.item)
    return entry.item if isinstance(entry, (Reopened, ClockStarted)) else None
