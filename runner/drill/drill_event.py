"""What happens in a drill beside the run's own entries: hands, looks, calls, and an instructor's doings.

`at` is seconds since the epoch, on the same clock as the entries. A drill is its setting, these and the
entries.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, fields
from typing import Any, Final, get_args

from runner.drill.played.hidden import Hidden, HiddenKind


@dataclass(frozen=True, slots=True)
class HandMoved:
    """The student moved the selector or a switch."""

    at: float
    switch: str
    position: str


@dataclass(frozen=True, slots=True)
class LookTaken:
    """The student asked what is to be seen at something."""

    at: float
    name: str


@dataclass(frozen=True, slots=True)
class FaultCalled:
    """The student said that something is wrong there, without being asked."""

    at: float
    name: str


@dataclass(frozen=True, slots=True)
class DrillInterrupted:
    """Somebody wants something of the student."""

    at: float
    number: int
    """Of the story's interruptions, from 0."""


@dataclass(frozen=True, slots=True)
class InterruptionAnswered:
    """And was answered."""

    at: float
    number: int


@dataclass(frozen=True, slots=True)
class WordsRefused:
    """Something was said that answers nothing here: no phrase in force, or a word that never answers."""

    at: float
    text: str
    """Empty where nothing could be made out."""
    reason: str


@dataclass(frozen=True, slots=True)
class DrillFrozen:
    """An instructor stopped the airplane's time."""

    at: float


@dataclass(frozen=True, slots=True)
class DrillThawed:
    """And let it go on."""

    at: float


@dataclass(frozen=True, slots=True)
class FaultTripped:
    """An instructor put one more fault into the airplane."""

    at: float
    fault: str
    """The kind of it, by its word."""
    name: str
    part: str = ""


@dataclass(frozen=True, slots=True)
class FaultMended:
    """An instructor took a fault out of the airplane."""

    at: float
    fault: str
    name: str
    part: str = ""


@dataclass(frozen=True, slots=True)
class InstructorRemark:
    """An instructor's words, for the debrief."""

    at: float
    by: str
    words: str


@dataclass(frozen=True, slots=True)
class DrillSigned:
    """An instructor signed the drill off."""

    at: float
    by: str
    is_met: bool
    """The instructor's own standard was met."""
    words: str


Penned = InstructorRemark | DrillSigned
"""Written about the drill: neither the airplane nor its time is touched by it."""

DrillEvent = (
    HandMoved
    | LookTaken
    | FaultCalled
    | DrillInterrupted
    | InterruptionAnswered
    | WordsRefused
    | DrillFrozen
    | DrillThawed
    | FaultTripped
    | FaultMended
    | InstructorRemark
    | DrillSigned
)

KINDS: Final = {each.__name__: each for each in get_args(DrillEvent)}


def held_seconds(events: Iterable[DrillEvent], ended_at: float) -> float:
    """For how long an instructor held the airplane's time."""
    held, since = 0.0, None
    for event in events:
        if isinstance(event, DrillFrozen) and since is None:
            since = event.at
        elif isinstance(event, DrillThawed) and since is not None:
            held, since = held + event.at - since, None
    return held if since is None else held + max(0.0, ended_at - since)


def event_to_json(event: DrillEvent) -> dict[str, Any]:
    """One flat object, `kind` first: the event's name."""
    return {"kind": type(event).__name__, **asdict(event)}


def event_from_json(data: Mapping[str, Any]) -> DrillEvent:
    """The event that `event_to_json` wrote; ValueError for anything else."""
    given = dict(data)
    made = KINDS.get(given.pop("kind", ""))
    if made is None:
        raise ValueError(f"{data.get('kind')!r} is no event of a drill")
    if given.keys() != {field.name for field in fields(made)}:
        raise ValueError(f"{made.__name__}: fields missing or unknown")
    event: DrillEvent = made(**given)
    return event


def tripped_fault(event: FaultTripped | FaultMended) -> Hidden:
    """The fault that an instructor put in or took out."""
    return Hidden(HiddenKind(event.fault), event.name, event.part)
