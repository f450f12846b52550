"""Entries: the lines of a run's record. A run is the fold of its entries (`progress.py`)."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.event import Port
from runner.language.catalogue import Outcome


class Cause(StrEnum):
    """Why the way of answering changed: the first of a pair takes the voice, the second returns it."""

    ROOM_LOUD = "room loud"
    ROOM_QUIET = "room quiet"
    MIC_LOST = "microphone lost"
    MIC_BACK = "microphone back"


@dataclass(frozen=True, slots=True)
class RunStarted:
    """The cautions were about to be read."""

    at: float


@dataclass(frozen=True, slots=True)
class CautionsTaken:
    """The pilot heard the cautions and said continue."""

    at: float


@dataclass(frozen=True, slots=True)
class AnswerRecorded:
    """An item was answered."""

    at: float
    item: str
    answer: str
    """The response's label, or the number as written: `24.6`."""
    unit: str
    """The reading's unit; empty for a named response."""
    outcome: Outcome
    origin: AnswerOrigin


@dataclass(frozen=True, slots=True)
class ConfirmationAsked:
    """A value out of its band, or an abandonment, waits for affirm or negative."""

    at: float
    item: str
    """Empty when the question is whether to abandon the check."""
    number: Decimal | None
    """The value in question; None for an abandonment."""
    origin: AnswerOrigin
    """Of the answer that is in question."""


@dataclass(frozen=True, slots=True)
class ConfirmationDropped:
    """It was negative, or disregarded."""

    at: float
    item: str


@dataclass(frozen=True, slots=True)
class ClockStarted:
    """A gyro got power; `at` is the onset of the answer that started it."""

    at: float
    item: str


@dataclass(frozen=True, slots=True)
class ClockAdvised:
    """The run asked about the gyro at its advise time."""

    at: float
    item: str


@dataclass(frozen=True, slots=True)
class ClockLimitPassed:
    """The limit went by with the flag still in view."""

    at: float
    item: str


@dataclass(frozen=True, slots=True)
class ClockEnded:
    """The flag pulled, or was declared stuck."""

    at: float
    item: str
    seconds: float
    is_pulled: bool
    outcome: Outcome
    reception: Reception


@dataclass(frozen=True, slots=True)
class Reopened:
    """`correction`: the last answer of this item is superseded; the old entry stays."""

    at: float
    item: str


@dataclass(frozen=True, slots=True)
class PutOff:
    """A non-critical item will be asked again before the restoration or the completion call."""

    at: float
    item: str


@dataclass(frozen=True, slots=True)
class DeclaredUnable:
    """The pilot could not do a non-critical item."""

    at: float
    item: str


@dataclass(frozen=True, slots=True)
class Stopped:
    """An answer that means danger: the run stays at the item until it gets a safe one. It is no squawk."""

    at: float
    item: str
    answer: str
    """As in AnswerRecorded; so are the fields that follow."""
    unit: str
    origin: AnswerOrigin


@dataclass(frozen=True, slots=True)
class StopSquawked:
    """The pilot had the stop that stands at this item written down as a squawk."""

    at: float
    item: str
    answer: str
    unit: str


@dataclass(frozen=True, slots=True)
class StopWithdrawn:
    """A correction took the dangerous answer back; the item is asked again."""

    at: float
    item: str


@dataclass(frozen=True, slots=True)
class StopRetried:
    """`continue` after a stop for which everything was put back: the item is to be asked once more."""

    at: float
    item: str


@dataclass(frozen=True, slots=True)
class Held:
    """`standby`."""

    at: float


@dataclass(frozen=True, slots=True)
class Released:
    """`continue` after a hold."""

    at: float


@dataclass(frozen=True, slots=True)
class BatteryWarned:
    """This check has used the airplane's warning share of the battery."""

    at: float
    ampere_hours: float


@dataclass(frozen=True, slots=True)
class InputChanged:
    """Voice gave way to keys, or came back."""

    at: float
    channel: str
    """How answers are taken from now on: keys while any cause against the voice lasts."""
    cause: Cause


@dataclass(frozen=True, slots=True)
class PortChanged:
    """A part of the tool failed, and the run goes on without it; or it serves again."""

    at: float
    port: Port
    is_lost: bool
    reason: str
    """In one line; empty when it serves again."""


@dataclass(frozen=True, slots=True)
class NoteStarted:
    """What is said next is kept as a sound clip; the item that was in force, or empty."""

    at: float
    item: str


@dataclass(frozen=True, slots=True)
class NoteRecorded:
    """The note is over; its sound clip belongs to this item."""

    at: float
    item: str
    clip: str
    """File name inside the logbook's clip folder; empty when nothing was recorded."""
    seconds: float


@dataclass(frozen=True, slots=True)
class NoteTyped:
    """The note is over; it was typed, and belongs to this item."""

    at: float
    item: str
    text: str


@dataclass(frozen=True, slots=True)
class Interrupted:
    """The run was reopened after the program stopped; `at` is when it went on."""

    at: float


@dataclass(frozen=True, slots=True)
class AbandonStarted:
    """The rest of the check is dropped; what was moved is still to be returned."""

    at: float


@dataclass(frozen=True, slots=True)
class RunAbandoned:
    """What was moved was asked back; the check was not finished."""

    at: float


@dataclass(frozen=True, slots=True)
class RunCompleted:
    """The completion call was made."""

    at: float


Entry = (
    RunStarted
    | CautionsTaken
    | AnswerRecorded
    | ConfirmationAsked
    | ConfirmationDropped
    | ClockStarted
    | ClockAdvised
    | ClockLimitPassed
    | ClockEnded
    | Reopened
    | PutOff
    | DeclaredUnable
    | Stopped
    | StopSquawked
    | StopWithdrawn
    | StopRetried
    | Held
    | Released
    | BatteryWarned
    | InputChanged
    | PortChanged
    | NoteStarted
    | NoteRecorded
    | NoteTyped
    | Interrupted
    | AbandonStarted
    | RunAbandoned
    | RunCompleted
)
