"""Stops: what was found dangerous in a run, what has to be put back first, and what became of it."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from runner.core.entry import AnswerRecorded, Entry, Stopped, StopRetried, StopSquawked, StopWithdrawn


@dataclass(frozen=True, slots=True)
class Stop:
    """One stop; a further dangerous answer to the same item before it is over belongs to it too."""

    found: Stopped
    """The latest dangerous answer."""
    at: float
    """When the first one was recorded, seconds since the epoch."""
    done: int
    """How many items were completed by then."""
    movers: tuple[str, ...] = ()
    """Items whose moves are asked back first, the last one first: for a value under its floor, away."""
    remedied_at: float | None = None
    """When the item got another answer."""
    retried_at: float | None = None
    """When, after everything was back, the pilot went on to take the reading once more."""
    withdrawn_at: float | None = None
    """When a correction took the answer back."""
    squawked_at: float | None = None
    """When the pilot had it written down as a squawk."""

    @property
    def item(self) -> str:
        """The item that it stands at."""
        return self.found.item

    @property
    def what(self) -> str:
        """What was answered: `19.0 volts`, `somebody there`."""
        return f"{self.found.answer} {self.found.unit}".strip()

    @property
    def is_over(self) -> bool:
        """It was remedied, or taken back."""
        return self.remedied_at is not None or self.withdrawn_at is not None

    @property
    def is_in_force(self) -> bool:
        """The run stays at its item."""
        return not self.is_over and self.retried_at is None


def stops_in(entries: Iterable[Entry]) -> tuple[Stop, ...]:
    """The stops of a record by themselves, where no check is there to fold it with; without moves."""
    stops: tuple[Stop, ...] = ()
    for entry in entries:
        stops = with_stop(stops, entry, 0, ()) if isinstance(entry, Stopped) else after_entry(stops, entry)
    return stops


def after_entry(stops: tuple[Stop, ...], entry: Entry) -> tuple[Stop, ...]:
    """The stops after an entry that may end one, or is about one."""
    match entry:
        case AnswerRecorded(at=at, item=item):
            return changed(stops, item, lambda stop: replace(stop, remedied_at=at))
        case StopWithdrawn(at=at, item=item):
            return changed(stops, item, lambda stop: replace(stop, withdrawn_at=at))
        case StopRetried(at=at, item=item):
            return changed(stops, item, lambda stop: replace(stop, retried_at=at))
        case StopSquawked(at=at, item=item):
            return changed(stops, item, lambda stop: replace(stop, squawked_at=at))
        case _:
            return stops


def with_stop(
    stops: tuple[Stop, ...], found: Stopped, done: int, movers: tuple[str, ...]
) -> tuple[Stop, ...]:
    """The stops with one more, or with the item's own brought up to date where that is not over."""
    known = next((stop for stop in stops if _is_open_at(stop, found.item)), Stop(found, found.at, done))
    stop = replace(known, found=found, done=done, movers=movers, retried_at=None)
    return (*(other for other in stops if other is not known), stop)


def changed(stops: tuple[Stop, ...], item: str, change: Callable[[Stop], Stop]) -> tuple[Stop, ...]:
    """The stops with this change to the one of the item that is not over."""
    return tuple(change(stop) if _is_open_at(stop, item) else stop for stop in stops)


def _is_open_at(stop: Stop, item: str) -> bool:
    return stop.item == item and not stop.is_over
