"""What happens in a drill beside the run's own entries: hands, looks, calls, and an instructor's doings.

`at` is seconds since the epoch, on the same clock as the entries. A drill is its setting, these and the
entries.
"""

from __future__ import annotations

from collections.abc import Mapping
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
    kind: str
    name: str
    part: str = ""


@dataclass(frozen=True, slots=True)
class FaultMended:
    """An instructor took a fault out of the airplane."""

    at: float
    kind: str
    name: str
    part: str = ""


@dataclass(frozen=True, slots=True)
class InstructorRemark:
    """An instructor's words, for the debrief."""

    at: float
    by: str
    words: str


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
)

KINDS: Final = {each.__name__: each for each in get_args(DrillEvent)}


def event_to_json(event: DrillEvent) -> dict[str, Any]:
    """One flat object, `kind` first; the kind of a fault that was tripped or mended stands as `fault`."""
    plain = asdict(event)
    if "kind" in plain:
        plain["fault"] = plain.pop("kind")
    return {"kind": type(event).__name__, **plain}


def event_from_json(data: Mapping[str, Any]) -> DrillEvent:
    """The event that `event_to_json` wrote; ValueError for anything else."""
    given = dict(data)
    made = KINDS.get(given.pop("kind", ""))
    if made is None:
        raise ValueError(f"{data.get('kind')!r} is no event of a drill")
    if "fault" in given:
        given["kind"] = given.pop("fault")
    if given.keys() != {field.name for field in fields(made)}:
        raise ValueError(f"{made.__name__}: fields missing or unknown")
    event: DrillEvent = made(**given)
    return event


def tripped_fault(event: FaultTripped | FaultMended) -> Hidden:
    """The fault that an instructor put in or took out."""
    return Hidden(HiddenKind(event.kind), event.name, event.part)
