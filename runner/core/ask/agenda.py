"""What is asked next: the item in force, the state that a record stands for, and what it still owes.

Items come in the order of the check. Before the selector is moved, away or back, and before the completion
call, items put off come back and open clocks are waited for: what they ask about may be dead in the next
position. On every way out what was moved is asked back, last moved first. A spin-up item applies once its
gyro has power; it is not asked in turn, its clock's phrase is in force from power-on.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from runner.checklist.format.check import Item
from runner.checklist.kind.numbered import Numbered
from runner.checklist.kind.spin_up import SpinUp
from runner.core.record.entry import AnswerRecorded, ClockStarted, Entry, RunAbandoned, RunCompleted
from runner.core.record.move import switches_returned
from runner.core.record.once import hand_on, once
from runner.core.record.progress import Progress
from runner.core.record.spin_up_clock import SpinUpClock
from runner.core.state import State
from runner.language.catalogue import Outcome


@dataclass(frozen=True, slots=True)
class Frontier:
    """How far the answers have come through the check.

    Each entry moves it on by what that entry touches, so that an answer costs the same in a long check.
    """

    first_waiting: int = 0
    """Number of the first item that waits and is not put off, or that nothing may be open for; from 0."""
    done: int = 0
    """Items answered, ended or declared unable."""
    squawks: int = 0
    cautions: int = 0
    left_out: frozenset[str] = frozenset()
    """Items that the answers rule out."""
    unstarted: frozenset[ClockStarted] = frozenset()
    """Clocks of gyros that have power and whose clock is not on record yet."""


@once
def frontier_of(progress: Progress) -> Frontier:
    """Where the record has come to: handed on by `carry_on`, else found by going through the whole check."""
    names = {item.name for item in progress.plan.check.items}
    return _moved_on(Frontier(), Progress(progress.plan), progress, names)


def carry_on(before: Progress, after: Progress, name: str = "") -> None:
    """Hand on to `after` what an entry about the item `name` (empty: about none) leaves as it was."""
    if after.moves is before.moves:
        hand_on("Progress.moved", before, after)
    if after.clocks is before.clocks and after.is_abandoning == before.is_abandoning:
        hand_on("Progress.open_clocks", before, after)
    if all(getattr(after, name) is getattr(before, name) for name in _DECIDING):
        hand_on("item_in_force", before, after)
    touched = set(after.moved_since ^ before.moved_since)
    if name:
        dependents = after.plan.check.dependents(name)
        touched |= {name, *(each.name for each in dependents if each.body.clock is not None)}
    if touched:
        after.known["frontier_of"] = _moved_on(frontier_of(before), before, after, touched)
    else:
        after.known["frontier_of"] = frontier_of(before)


_DECIDING: Final = ("answers", "unable", "clocks", "put_off", "moves", "stops", "is_abandoning")
"""What of a progress decides which item is in force: a hold, a note, a question or noise changes nothing."""


def is_critical(item: Item) -> bool:
    """May be neither put off nor declared unable: critical items, returns, the completion call."""
    return item.critical or bool(switches_returned(item)) or item.body.is_call


def applies(progress: Progress, item: Item) -> bool:
    """Whether the answers given so far make this item one to be asked."""
    if item.when is not None:
        answer = progress.answers.get(item.when.item)
        if answer is None or answer.answer not in item.when.labels:
            return False
    return item.body.clock is None or power_on(progress, item.body.clock) is not None


def is_left_out(progress: Progress, item: Item) -> bool:
    """Whether the answers so far rule the item out: a choice went another way, or a gyro got no power."""
    return item.name in frontier_of(progress).left_out


def power_on(progress: Progress, body: SpinUp) -> AnswerRecorded | None:
    """The answer that gave this gyro its power; a squawk gives none."""
    answer = progress.answers.get(body.starts_on)
    return None if answer is None or answer.outcome is Outcome.SQUAWK else answer


@once
def item_in_force(progress: Progress) -> Item | None:
    """The item that is asked now or will be after the question at hand; None when only clocks are open."""
    if progress.is_returning:
        return _next_return(progress)
    check = progress.plan.check
    if progress.stop is not None:
        return check.item(progress.stop.item)
    number = frontier_of(progress).first_waiting
    first = check.items[number] if number < len(check.items) else None
    if first is not None and not is_barrier(first):
        return first
    back = _first_put_off(progress)
    if back is not None:
        return back
    if progress.open_clocks:
        return None
    is_last = first is not None and first.body.is_call
    return (_next_return(progress) if is_last else None) or first


def asked_item(progress: Progress) -> Item | None:
    """The item that the record shows to be asked; None where something else is, or has still to follow."""
    if owed_entries(progress, 0.0) or state_of(progress) not in (State.ASKING, State.RESTORING):
        return None
    return item_in_force(progress)


@once
def state_of(progress: Progress) -> State:
    """The state that a record stands for."""
    if progress.ended is not None:
        return State.COMPLETE if isinstance(progress.ended, RunCompleted) else State.ABANDONED
    if progress.started_at is None:
        return State.READY
    if progress.held is not None:
        return State.HOLDING
    if progress.noting is not None:
        return State.NOTING
    return interrupted_state(progress) if progress.pending is None else State.CONFIRMING


def interrupted_state(progress: Progress) -> State:
    """What goes on after a hold or a note; where neither is, after the confirmation that is asked for."""
    is_interrupted = progress.held is not None or progress.noting is not None
    if is_interrupted and progress.pending is not None:
        return State.CONFIRMING
    if progress.is_returning:
        return State.RESTORING
    if progress.stop is not None:
        return State.STOPPED
    if not progress.are_cautions_taken:
        return State.BRIEFING
    return State.WAITING if item_in_force(progress) is None else State.ASKING


def item_at_hand(progress: Progress) -> Item | None:
    """The item whose answers count now: the one asked, or the reading that waits for confirmation.

    None at a stop for which everything was put back: there is nothing to read until it is asked again.
    """
    state = state_of(progress)
    if state in (State.ASKING, State.RESTORING):
        return item_in_force(progress)
    if state is State.STOPPED and progress.stop is not None and not progress.stop.movers:
        return item_in_force(progress)
    pending = progress.pending
    if state is State.CONFIRMING and pending is not None and pending.number is not None:
        return progress.plan.check.item(pending.item)
    return None


def owed_entries(progress: Progress, at: float) -> tuple[Entry, ...]:
    """What follows of itself from the record: clocks of gyros with power, and the end of the run.

    The machine asks after every entry, and again when a run is reopened: a record cut off between
    an answer and its consequence is made whole, with the clock still started by that answer.
    """
    if not progress.is_abandoning:
        starts = frontier_of(progress).unstarted
        if starts:
            return tuple(sorted(starts, key=lambda start: progress.plan.check.number(start.item)))
    state = state_of(progress)
    if progress.is_abandoning and state is State.RESTORING and item_in_force(progress) is None:
        return (RunAbandoned(at),)
    if state is State.WAITING and not progress.open_clocks:
        return (RunCompleted(at),)
    return ()


def _next_return(progress: Progress) -> Item | None:
    """The item that asks back what was moved last and is not back."""
    return next(unreturned(progress), None)


def unreturned(progress: Progress) -> Iterator[Item]:
    """Items that ask back what is still out of its place, last moved first."""
    return (progress.plan.check.item(move.back) for move in progress.moved)


def _first_put_off(progress: Progress) -> Item | None:
    """The item put off that stands first in the check, of those that can be asked in turn."""
    check = progress.plan.check
    items = map(check.item, progress.put_off)
    waiting = (item for item in items if _is_waiting(progress, item))
    return min(waiting, key=lambda item: check.number(item.name), default=None)


def _is_waiting(progress: Progress, item: Item) -> bool:
    """It can be asked in turn and has no answer."""
    is_in_turn = item.body.clock is None and not progress.is_settled(item.name)
    return is_in_turn and applies(progress, item)


def is_barrier(item: Item) -> bool:
    """Nothing may be open when this item is asked: it moves the selector, or ends the check."""
    return item.body.selects is not None or item.restores or item.body.is_call


def passed_clocks(progress: Progress, last: str, following: str) -> tuple[SpinUpClock, ...]:
    """Open clocks whose items stand between the item just done and the one that follows."""
    number = progress.plan.check.number
    between = range(number(last) + 1, number(following))
    return tuple(clock for clock in progress.open_clocks if number(clock.item) in between)


def spin_up_of(progress: Progress, clock: SpinUpClock) -> tuple[Item, SpinUp]:
    """The item that a clock belongs to, with its limits."""
    item = progress.plan.check.item(clock.item)
    if item.body.clock is None:
        raise TypeError(f'"{clock.item}" is no spin-up; no clock belongs to it')
    return item, item.body.clock


def number_of(progress: Progress, name: str) -> Numbered:
    """The number that an item asks for; TypeError when it asks for none."""
    number = progress.plan.check.item(name).body.number
    if number is None:
        raise TypeError(f'"{name}" is no reading; no value of it can wait for confirmation')
    return number


def _moved_on(frontier: Frontier, before: Progress, after: Progress, touched: set[str]) -> Frontier:
    """The frontier of `after`, where only these items may have been settled or opened since `before`."""
    near = touched | {item.name for name in touched for item in after.plan.check.dependents(name)}

    def count(outcome: Outcome) -> int:
        return sum((after.outcome(name) is outcome) - (before.outcome(name) is outcome) for name in touched)

    return Frontier(
        first_waiting=_first_waiting(after, frontier.first_waiting, near),
        done=frontier.done + sum(after.is_settled(name) - before.is_settled(name) for name in touched),
        squawks=frontier.squawks + count(Outcome.SQUAWK),
        cautions=frontier.cautions + count(Outcome.CAUTION),
        left_out=_left_out(after, frontier.left_out, near),
        unstarted=frozenset((*_elsewhere(frontier.unstarted, near), *_clock_starts(after, near))),
    )


def _first_waiting(progress: Progress, number: int, near: Iterable[str]) -> int:
    """The first item that comes in turn: one of those near in front of `number`, else from there on."""
    check = progress.plan.check

    def is_next(number: int) -> bool:
        item = check.items[number]
        is_due = _is_waiting(progress, item)
        return is_due and (is_barrier(item) or item.name not in progress.put_off)

    earlier = (other for name in near if (other := check.number(name)) < number and is_next(other))
    found = min(earlier, default=None)
    if found is not None:
        return found
    return next((other for other in range(number, len(check.items)) if is_next(other)), len(check.items))


def _left_out(progress: Progress, known: frozenset[str], near: Iterable[str]) -> frozenset[str]:
    """What is ruled out now: those near are looked at, and whatever hangs on one that changes."""
    check = progress.plan.check
    changed: dict[str, bool] = {}

    def is_out(name: str) -> bool:
        return changed.get(name, name in known)

    waiting = list(near)
    while waiting:
        name = waiting.pop()
        is_out_now = _is_ruled_out(progress, check.item(name), is_out)
        if is_out_now != is_out(name):
            changed[name] = is_out_now
            waiting += [item.name for item in check.dependents(name)]
    if not changed:
        return known
    return known.difference(changed).union(name for name, is_out_now in changed.items() if is_out_now)


def _is_ruled_out(progress: Progress, item: Item, is_out: Callable[[str], bool]) -> bool:
    """An item that it hangs on was answered otherwise, cannot be done, or is itself ruled out."""
    if item.when is not None:
        answer = progress.answers.get(item.when.item)
        if not progress.is_settled(item.when.item):
            if is_out(item.when.item):
                return True
        elif answer is None or answer.answer not in item.when.labels:
            return True
    clock = item.body.clock
    if clock is None:
        return False
    if progress.is_settled(clock.starts_on):
        return power_on(progress, clock) is None
    return is_out(clock.starts_on)


def _elsewhere(starts: Iterable[ClockStarted], near: set[str]) -> Iterator[ClockStarted]:
    return (start for start in starts if start.item not in near)


def _clock_starts(progress: Progress, near: Iterable[str]) -> Iterator[ClockStarted]:
    """Those near whose gyro has power and whose clock does not run."""
    for item in map(progress.plan.check.item, near):
        answer = None if item.body.clock is None else power_on(progress, item.body.clock)
        if answer is not None and item.name not in progress.clocks and applies(progress, item):
            yield ClockStarted(answer.origin.onset_at, item.name)
