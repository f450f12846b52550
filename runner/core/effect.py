"""Effects: what the session is to do, in the imperative. `Append` is always the first of a step."""

from dataclasses import dataclass

from runner.core.record.entry import Entry
from runner.language.force import InForce


@dataclass(frozen=True, slots=True)
class Append:
    """Put one entry on disk before anything is said or shown about it."""

    entry: Entry


@dataclass(frozen=True, slots=True)
class Say:
    """Speak the text, cutting short whatever is being said; its end comes back as PlaybackEnded(turn)."""

    turn: int
    text: str
    read_back: tuple[str, ...] = ()
    """The sentences of the text that are said at a hundred words a minute or less."""


@dataclass(frozen=True, slots=True)
class Listen:
    """From the end of this turn's prompt on, these phrases are in force."""

    turn: int
    in_force: InForce


@dataclass(frozen=True, slots=True)
class Record:
    """Record what is said next as a sound clip; ends with NoteEnded."""

    turn: int


@dataclass(frozen=True, slots=True)
class Show:
    """The screen's picture of the run is out of date."""


@dataclass(frozen=True, slots=True)
class Finish:
    """The run has reached a final state; nothing more is expected."""


Effect = Append | Say | Listen | Record | Show | Finish
