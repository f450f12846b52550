"""PURE: the stops of a run as a report lists them, and what was moved in it and is not known to be back."""

from collections.abc import Iterator
from dataclasses import dataclass

from runner.checklist.format.check import Item
from runner.checklist.format.mark import SELECTOR
from runner.core.record.danger_stop import Stop
from runner.core.record.progress import Progress
from runner.language.catalogue import Outcome
from runner.logbook.list.entry_wording import became_words


@dataclass(frozen=True, slots=True)
class RunStop:
    """One stop with the item that it stood at."""

    item: Item
    stop: Stop

    @property
    def is_remedied(self) -> bool:
        """The item got a safe answer afterwards."""
        return self.stop.remedied_at is not None

    @property
    def is_withdrawn(self) -> bool:
        """A correction took it back."""
        return self.stop.withdrawn_at is not None

    def became(self, started_at: float) -> str:
        """What became of it; `started_at` is that of the run, seconds since the epoch."""
        squawked = self.stop.squawked_at is not None
        return f"{became_words(self.stop, started_at)}{', written down as a squawk' if squawked else ''}"


def run_stops(progress: Progress) -> tuple[RunStop, ...]:
    """Every stop in time order, those that were taken back as well."""
    return tuple(RunStop(progress.plan.check.item(stop.item), stop) for stop in progress.stops)


def left_moved(progress: Progress) -> tuple[str, ...]:
    """What was moved and is not on record as back: never asked back, or answered with a squawk.

    The selector is among it only where no answer tells its position; where one does, that is reported.
    """
    return tuple(dict.fromkeys(_left(progress)))


def _left(progress: Progress) -> Iterator[str]:
    is_told = bool(progress.positions)
    for move in progress.moves:
        answer = progress.answers.get(move.returned_by)
        failed = answer is not None and answer.outcome is Outcome.SQUAWK
        if (not move.returned_by or failed) and not (move.switch == SELECTOR and is_told):
            yield move.switch
