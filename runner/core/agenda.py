"""What is asked next: the item in force, the state that a record stands for, and what it still owes.

Items come in the order of the check. Before the selector is moved, away or back, and before the completion
call, items put off come back and open clocks are waited for: what they ask about may be dead in the next
position. On every way out what was moved is asked back, last moved first. A spin-up item applies once its
gyro has power; it is not asked in turn, its clock's phrase is in force from power-on.
"""

from collections.abc import Iterator

from runner.checklist.model import Action, Call, Condition, Item, Outcome, Reading, SpinUp
from runner.core.clock import Clock
from runner.core.entry import AnswerRecorded, ClockStarted, Entry, RunAbandoned, RunCompleted
from runner.core.move import switches_returned
from runner.core.progress import Progress
from runner.core.state import State


def is_critical(item: Item) -> bool:
    """May be neither put off nor declared unable: critical items, returns, the completion call."""
    return item.critical or bool(switches_returned(item)) or isinstance(item.body, Call)


def applies(progress: Progress, item: Item) -> bool:
    """Whether the answers given so far make this item one to be asked."""
    if item.when is not None:
        answer = progress.answers.get(item.when.item)
        if answer is None or answer.answer not in item.when.labels:
            return False
    return not isinstance(item.body, SpinUp) or power_on(progress, item.body) is not None


def is_left_out(progress: Progress, item: Item) -> bool:
    """Whether the answers so far rule the item out: a choice went another way, or a gyro got no power."""
    if item.when is not None and _is_denied(progress, item.when):
        return True
    return isinstance(item.body, SpinUp) and _stays_dark(progress, item.body)


def power_on(progress: Progress, body: SpinUp) -> AnswerRecorded | None:
    """The answer that gave this gyro its power; a squawk gives none."""
    answer = progress.answers.get(body.starts_on)
    return None if answer is None or answer.outcome is Outcome.SQUAWK else answer


def item_in_force(progress: Progress) -> Item | None:
    """The item that is asked now or will be after the question at hand; None when only clocks are open."""
    if "item" not in progress.known:
        progress.known["item"] = _item_in_force(progress)
    item: Item | None = progress.known["item"]
    return item


def _item_in_force(progress: Progress) -> Item | None:
    if progress.is_returning:
        return _next_return(progress)
    if progress.stop is not None:
        return progress.plan.check.item(progress.stop.item)
    waiting = list(_unsettled(progress))
    ahead = next((item for item in waiting if _is_barrier(item) or item.name not in progress.put_off), None)
    if ahead is not None and not _is_barrier(ahead):
        return ahead
    back = next((item for item in waiting if item.name in progress.put_off), None)
    if back is not None:
        return back
    if progress.open_clocks:
        return None
    is_last = ahead is not None and isinstance(ahead.body, Call)
    return (_next_return(progress) if is_last else None) or ahead


def asked_item(progress: Progress) -> Item | None:
    """The item that the record shows to be asked; None where something else is, or has still to follow."""
    if state_of(progress) not in (State.ASKING, State.RESTORING) or owed_entries(progress, 0.0):
        return None
    return item_in_force(progress)


def state_of(progress: Progress) -> State:
    """The state that a record stands for."""
    if "state" not in progress.known:
        progress.known["state"] = _state_of(progress)
    state: State = progress.known["state"]
    return state


def _state_of(progress: Progress) -> State:
    if progress.ended is not None:
        return State.COMPLETE if isinstance(progress.ended, RunCompleted) else State.ABANDONED
    if progress.started_at is None:
        return State.READY
    if progress.held is not None:
        return State.HOLDING
    if progress.noting is not None:
        return State.NOTING
    if progress.pending is not None:
        return State.CONFIRMING
    return _asking_state(progress)


def owed_entries(progress: Progress, at: float) -> tuple[Entry, ...]:
    """What follows of itself from the record: clocks of gyros with power, and the end of the run.

    The machine asks after every entry, and again when a run is reopened: a record cut off between
    an answer and its consequence is made whole, with the clock still started by that answer.
    """
    if not progress.is_abandoning:
        starts = tuple(_clock_starts(progress))
        if starts:
            return starts
    state = state_of(progress)
    if progress.is_abandoning and state is State.RESTORING and item_in_force(progress) is None:
        return (RunAbandoned(at),)
    if state is State.WAITING and not progress.open_clocks:
        return (RunCompleted(at),)
    return ()


def _is_denied(progress: Progress, condition: Condition) -> bool:
    """The item that it hangs on was answered otherwise, cannot be done, or is itself ruled out."""
    if progress.is_settled(condition.item):
        answer = progress.answers.get(condition.item)
        return answer is None or answer.answer not in condition.labels
    return is_left_out(progress, progress.plan.check.item(condition.item))


def _stays_dark(progress: Progress, body: SpinUp) -> bool:
    """The item that gives the gyro its power was answered without doing so, or is itself ruled out."""
    if progress.is_settled(body.starts_on):
        return power_on(progress, body) is None
    return is_left_out(progress, progress.plan.check.item(body.starts_on))


def _asking_state(progress: Progress) -> State:
    if progress.is_returning:
        return State.RESTORING
    if progress.stop is not None:
        return State.STOPPED
    if not progress.are_cautions_taken:
        return State.BRIEFING
    return State.WAITING if item_in_force(progress) is None else State.ASKING


def _clock_starts(progress: Progress) -> Iterator[ClockStarted]:
    for item, body in progress.plan.check.clocks():
        answer = power_on(progress, body)
        if answer is not None and item.name not in progress.clocks and applies(progress, item):
            yield ClockStarted(answer.onset_at, item.name)


def _next_return(progress: Progress) -> Item | None:
    """The item that asks back what was moved last and is not back."""
    return next((progress.plan.check.item(move.back) for move in progress.moved), None)


def _unsettled(progress: Progress) -> Iterator[Item]:
    """Items that can be asked in turn and have no answer, in the order of the check."""
    for item in progress.plan.check.items:
        is_in_turn = not isinstance(item.body, SpinUp) and not progress.is_settled(item.name)
        if is_in_turn and applies(progress, item):
            yield item


def _is_barrier(item: Item) -> bool:
    """Nothing may be open when this item is asked: it moves the selector, or ends the check."""
    moves_selector = isinstance(item.body, Action) and item.body.selects is not None
    return moves_selector or item.restores or isinstance(item.body, Call)


def passed_clocks(progress: Progress, last: str, following: str) -> tuple[Clock, ...]:
    """Open clocks whose items stand between the item just done and the one that follows."""
    names = [item.name for item in progress.plan.check.items]
    between = names[names.index(last) + 1 : names.index(following)]
    return tuple(clock for clock in progress.open_clocks if clock.item in between)


def spin_up_of(progress: Progress, clock: Clock) -> tuple[Item, SpinUp]:
    """The item that a clock belongs to, with its limits."""
    return next((item, body) for item, body in progress.plan.check.clocks() if item.name == clock.item)


def reading_of(progress: Progress, name: str) -> Reading:
    """The reading that an item asks for; TypeError when it asks for none."""
    body = progress.plan.check.item(name).body
    if not isinstance(body, Reading):
        raise TypeError(f'"{name}" is no reading; no value of it can wait for confirmation')
    return body
