"""What a correction takes back, and whether the new answer may follow it in the same breath."""

from runner.checklist.format.check import Item
from runner.core.ask.agenda import applies, frontier_of, is_barrier, item_at_hand, owed_entries, state_of
from runner.core.record.entry import ConfirmationDropped, Entry, Reopened, StopWithdrawn
from runner.core.record.move import switches_returned
from runner.core.record.once import once
from runner.core.record.progress import Progress
from runner.core.state import State


def correctable(progress: Progress) -> str:
    """The item whose answer a correction takes back; empty where there is none.

    That is a stop about which nothing was done yet, else what was completed last; in an abandoned check only
    what returns something.
    """
    stop, name = progress.stop, progress.last_done
    if stop is not None and not progress.is_abandoning and len(progress.done) <= stop.done:
        return stop.item
    if name is None or (progress.is_abandoning and not switches_returned(progress.plan.check.item(name))):
        return ""
    return name


def taken_back(progress: Progress, name: str, at: float) -> Entry:
    """What goes on record when the last answer of this item is taken back."""
    stop = progress.stop
    return StopWithdrawn(at, name) if stop is not None and stop.item == name else Reopened(at, name)


def correction(progress: Progress, at: float) -> Entry | None:
    """What the word alone puts on record of an item; None where it corrects no answer of one."""
    if state_of(progress) is State.CONFIRMING:
        pending = progress.pending
        if pending is None or pending.number is None:
            return None
        return ConfirmationDropped(at, pending.item)
    if state_of(progress) not in (State.ASKING, State.STOPPED, State.WAITING, State.RESTORING):
        return None
    name = correctable(progress)
    return taken_back(progress, name, at) if name else None


@once
def corrected_item(progress: Progress) -> Item | None:
    """The item that is asked at once when a correction has taken its answer back; None where none is.

    A clock ends with its own phrase, which is in force again once it runs on.
    """
    entry = correction(progress, 0.0)
    if not isinstance(entry, Reopened):
        return None if entry is None else asked_after(progress, entry)
    item = progress.plan.check.item(entry.item)
    if item.body.clock is not None:
        return None
    if not _is_plain(progress, item):
        return asked_after(progress, entry)
    is_first = progress.plan.check.number(item.name) < frontier_of(progress).first_waiting
    return item if is_first and applies(progress, item) else None


def asked_after(progress: Progress, entry: Entry) -> Item | None:
    """The item that this entry is about, where the entry leads to its being asked."""
    after = progress.after(entry)
    item = None if owed_entries(after, 0.0) else item_at_hand(after)
    return item if item is not None and item.name == getattr(entry, "item", "") else None


def _is_plain(progress: Progress, item: Item) -> bool:
    """Nothing but the order of the check decides whether it is asked, which is told at once."""
    is_special = is_barrier(item) or item.moves or switches_returned(item)
    return not (is_special or progress.is_abandoning or progress.stop is not None)
