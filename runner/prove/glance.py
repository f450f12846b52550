"""A glance: all that the rows of the table look at in a moment, besides what was done last.

A walk tries everything that can happen in the first moment of each glance. In later moments with the same
glance the rows put the same on record: what put nothing on record is not tried again, and of what put the
same on record one stands for all. That is so of every row and word, since they look at the state, the item
in force, the question that waits, the open clocks, the stop, and whether the check is abandoned or its
cautions are taken. Three look further and are tried always: a correction reopens what was done last, putting
off asks what would come next, and a stop that is tried again reopens what it had put back (the one word for
it, `continue`, tells at every stop of that glance).

The record of an answer is the same as another's for all that follows when they differ in nothing that
another item hangs on, that gives a gyro power, that moves the selector, or that lies under a floor.
"""

from collections.abc import Hashable, Iterable
from dataclasses import dataclass, field

from runner.core.ask.agenda import is_barrier, item_in_force, state_of
from runner.core.event import Answered
from runner.core.record.entry import ConfirmationAsked, Entry, Stopped
from runner.core.record.progress import Progress
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Command
from runner.prove.alike import Roles
from runner.prove.happening import Happening

LOOKING_FURTHER = frozenset({Word.CORRECTION, Word.PUT_OFF})
"""Words whose row looks at more than a glance holds."""
INTERRUPTIONS = frozenset({Word.STANDBY, Word.NOTE, Word.ABANDON})


@dataclass(slots=True)
class Glances:
    """What has been found to tell in the first moment of each glance."""

    roles: Roles
    _telling: dict[Hashable, frozenset[str]] = field(default_factory=dict)

    def is_new(self, progress: Progress) -> bool:
        """Whether no moment with this glance was walked before, so that everything is to be tried."""
        return self.roles.is_exact or glance_of(progress) not in self._telling

    def tells(self, happening: Happening, progress: Progress) -> bool:
        """Whether this is to be tried in a moment whose glance is known."""
        return happening.words in self._telling[glance_of(progress)] or word_of(happening) in LOOKING_FURTHER

    def learn(self, progress: Progress, tried: Iterable[tuple[Happening, tuple[Entry, ...]]]) -> None:
        """What everything put on record that was tried in this moment."""
        first: dict[Hashable, str] = {}
        for happening, entries in tried:
            if entries:
                first.setdefault(tuple(map(self._gist, entries)), happening.words)
        self._telling[glance_of(progress)] = frozenset(first.values())

    def _gist(self, entry: Entry) -> Hashable:
        """Equal for entries from which the same follows."""
        name = getattr(entry, "item", "")
        answer = getattr(entry, "answer", None)
        if isinstance(entry, ConfirmationAsked):
            return type(entry), name, entry.number
        if name in self.roles.deciding or isinstance(entry, Stopped):
            return type(entry), name, answer
        counts = answer is not None and is_barrier(self.roles.plan.check.item(name))
        is_squawk = getattr(entry, "outcome", None) is Outcome.SQUAWK
        return type(entry), name, (counts or name in self.roles.starting) and is_squawk


def glance_of(progress: Progress) -> Hashable:
    """Equal for moments in which the rows of the table see the same."""
    item, pending, stop = item_in_force(progress), progress.pending, progress.stop
    return (
        state_of(progress),
        None if item is None else item.name,
        None if pending is None else (pending.item, pending.number is None),
        tuple(clock.item for clock in progress.open_clocks),
        None if stop is None else (stop.item, bool(stop.movers)),
        progress.is_abandoning,
        progress.are_cautions_taken,
    )


def word_of(happening: Happening) -> Word | None:
    """The standard word that is said; None where it is something else."""
    meaning = happening.event.meaning if isinstance(happening.event, Answered) else None
    return meaning.word if isinstance(meaning, Command) else None


def passing(happening: Happening) -> Hashable:
    """An interruption, which leaves the rest of a run as it was; None for anything else."""
    word = word_of(happening)
    return word if word in INTERRUPTIONS else None
