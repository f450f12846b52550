"""PURE: the items of a run in the order of its check, each with what was expected and what it got."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from runner.checklist.format.check import Item
from runner.core.ask.agenda import is_left_out
from runner.core.record.given_answer import GivenAnswer
from runner.core.record.progress import Progress
from runner.language.catalogue import Outcome


class ItemState(StrEnum):
    """What became of an item."""

    ANSWERED = "answered"
    UNABLE = "unable"
    OPEN = "not answered"
    LEFT_OUT = "did not apply"


@dataclass(frozen=True, slots=True)
class RunItem:
    """One item of a run."""

    section: str
    """Title of its section."""
    item: Item
    state: ItemState
    given: tuple[GivenAnswer, ...]
    """Every answer it got, oldest first; the last stands when the item is answered or unable."""
    put_off_at: tuple[float, ...]
    """When it was put off, seconds since the epoch."""

    @property
    def standing(self) -> GivenAnswer | None:
        """The answer that stands."""
        return self.given[-1] if self.given and self.given[-1].stands else None

    @property
    def outcome(self) -> Outcome | None:
        """What the standing answer means; None when there is none, or the item was declared unable."""
        return None if self.standing is None else self.standing.outcome


def run_items(progress: Progress) -> tuple[RunItem, ...]:
    """All items of the check."""
    history = progress.history
    return tuple(
        RunItem(
            section.title,
            item,
            _state(progress, item),
            history.given.get(item.name, ()),
            history.put_off_at.get(item.name, ()),
        )
        for section in progress.plan.check.sections
        for item in section.items
    )


def _state(progress: Progress, item: Item) -> ItemState:
    if item.name in progress.unable:
        return ItemState.UNABLE
    if progress.is_settled(item.name):
        return ItemState.ANSWERED
    return ItemState.LEFT_OUT if is_left_out(progress, item) else ItemState.OPEN


@dataclass(frozen=True, slots=True)
class SpinUpTime:
    """How long a gyro took, beside what the check allows; all in seconds."""

    item: str
    gyro: str
    seconds: float
    advise_seconds: float
    limit_seconds: float
    is_pulled: bool
    outcome: Outcome


def spin_up_times(progress: Progress) -> Iterator[SpinUpTime]:
    """The clocks that ended, in the order of power-on."""
    for name, clock in progress.clocks.items():
        body = progress.plan.check.item(name).body.clock
        if clock.ended is not None and body is not None:
            ended, limits = clock.ended, (body.advise_seconds, body.limit_seconds)
            yield SpinUpTime(name, body.gyro, ended.seconds, *limits, ended.is_pulled, ended.outcome)
