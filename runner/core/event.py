"""Events: what happened in the world. `at` is seconds since the epoch on the audio clock."""

from dataclasses import dataclass
from enum import StrEnum

from runner.core.answer_origin import Reception
from runner.language.meaning import Meaning


class Channel(StrEnum):
    """How an answer came in."""

    VOICE = "voice"
    KEYS = "keys"


class Port(StrEnum):
    """What the session calls upon and may be let down by; the value is the word for it."""

    EAR = "ear"
    MICROPHONE = "microphone"
    MOUTH = "voice"
    SPEAKER = "loudspeaker"
    CLIP = "note"
    SCREEN = "screen"


@dataclass(frozen=True, slots=True)
class Started:
    """The pilot begins the run (or reopens it after a stop)."""

    at: float
    is_set_back: bool = False
    """The computer's clock stood before the record's last entry: how long the run was stopped is unknown."""


@dataclass(frozen=True, slots=True)
class Answered:
    """Something in force was said or keyed."""

    at: float
    turn: int
    """The turn whose phrases were in force; answers of an older turn are stale."""
    meaning: Meaning
    text: str
    """What was heard, or the key's label."""
    confidence: float
    """0 to 1; keys have 1."""
    onset_at: float
    """When the speech began (for keys, when the key went down)."""
    channel: Channel

    @property
    def reception(self) -> Reception:
        """What of it goes on record."""
        return Reception(self.text, self.confidence, self.channel.value)


class Reason(StrEnum):
    """Why something heard was not taken."""

    UNKNOWN = "not in force"
    UNSURE = "not sure enough"


@dataclass(frozen=True, slots=True)
class Misheard:
    """Speech that gave no answer."""

    at: float
    turn: int
    reason: Reason
    text: str | None
    confidence: float


@dataclass(frozen=True, slots=True)
class PlaybackEnded:
    """The loudspeaker has finished the prompt of this turn (or was cut short)."""

    at: float
    turn: int


@dataclass(frozen=True, slots=True)
class Ticked:
    """Time went by."""

    at: float


@dataclass(frozen=True, slots=True)
class RoomGrewLoud:
    """The noise floor passed what the ear can work in."""

    at: float
    dbfs: float


@dataclass(frozen=True, slots=True)
class RoomGrewQuiet:
    """The noise floor came back under the ear's limit."""

    at: float
    dbfs: float


@dataclass(frozen=True, slots=True)
class MicLost:
    """No blocks come from the microphone any more."""

    at: float


@dataclass(frozen=True, slots=True)
class MicBack:
    """Blocks come again."""

    at: float


@dataclass(frozen=True, slots=True)
class NoteEnded:
    """The sound clip of a note is on disk, or the note was typed."""

    at: float
    clip: str
    """File name inside the logbook's clip folder; empty when nothing was recorded."""
    seconds: float
    text: str = ""
    """What was typed where there is no microphone."""


@dataclass(frozen=True, slots=True)
class PortFailed:
    """A port raised an error, or did not answer in time."""

    at: float
    port: Port
    reason: str
    """In one line."""


@dataclass(frozen=True, slots=True)
class PortBack:
    """It does again what it is asked."""

    at: float
    port: Port


Event = (
    Started
    | Answered
    | Misheard
    | PlaybackEnded
    | Ticked
    | RoomGrewLoud
    | RoomGrewQuiet
    | MicLost
    | MicBack
    | NoteEnded
    | PortFailed
    | PortBack
)
