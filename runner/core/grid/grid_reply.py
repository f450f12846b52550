"""What a cell of the grid works with: the moment that it looks at and the reply that it gives."""

from dataclasses import dataclass

from runner.core.grid.turn import Manner, Turn
from runner.core.record.entry import Entry
from runner.core.record.progress import Progress
from runner.core.state import State


@dataclass(frozen=True, slots=True)
class Moment:
    """All that a cell may look at besides its event."""

    progress: Progress
    state: State
    turn: Turn
    before: Turn | None
    misses: int
    """Failures to hear in a row."""


@dataclass(frozen=True, slots=True)
class Reply:
    """What a cell wants done. The machine folds the entries, and the state follows from the record."""

    entries: tuple[Entry, ...] = ()
    preface: str = ""
    """Spoken in front of the question that the new state asks."""
    read_back: str = ""
    """What was recorded, repeated behind the preface at the pace of a read-back."""
    remark: str = ""
    """What is to be done about it, spoken behind the read-back."""
    is_silent: bool = False
    """Nothing is said: the turn stays as it is."""
    is_repetition: bool = False
    """The preface is all that is said; it holds the question already."""
    reads_back: str = ""
    """The item whose answer the preface reads back."""
    alerts: tuple[str, ...] = ()
    """Alerts that are said again even where they have been heard (`alert.py`)."""
    manner: Manner | None = None
    """How all is said from now on; None as before."""
    is_next_breath: bool = False
    """The turn's transmission goes on with its next breath, and nothing else is said."""
    is_reminder: bool = False
    """Silence makes the run ask once more."""
    is_refusal: bool = False
    """Nothing comes of it but words that say so."""
    is_miss: bool = False
    """Nothing was understood."""
    heard_out_at: float | None = None
    """When the turn's prompt was heard to its end."""
