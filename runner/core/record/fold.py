"""The fold: a run's record read line by line into its progress. Each kind of entry has one function here.

A correction never takes a thing to be nearer to its place than it may be: reopening the item that moved
it away leaves it away, reopening the item that brought it back leaves it away too. What an item moves
counts as moved from the moment that it is asked. What needs no check is the history (`answer_history.py`).
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any, Final

from runner.core.ask.agenda import asked_item, carry_on
from runner.core.plan import Plan
from runner.core.record.danger_stop import after_entry, with_stop
from runner.core.record.entry import (
    AbandonStarted,
    AnswerRecorded,
    BatteryWarned,
    Cause,
    CautionsTaken,
    ClockAdvised,
    ClockEnded,
    ClockLimitPassed,
    ClockStarted,
    ConfirmationAsked,
    ConfirmationDropped,
    DeclaredUnable,
    Entry,
    Held,
    InputChanged,
    Interrupted,
    NoteRecorded,
    NoteStarted,
    NoteTyped,
    PortChanged,
    PutOff,
    Released,
    Reopened,
    RunAbandoned,
    RunCompleted,
    RunStarted,
    Stopped,
    StopRetried,
    StopSquawked,
    StopWithdrawn,
)
from runner.core.record.move import Move, moves_of, switches_returned
from runner.core.record.once import hand_on
from runner.core.record.progress import Position, Progress
from runner.core.record.spin_up_clock import SpinUpClock
from runner.errors import RecordError
from runner.language.catalogue import Outcome

CLOCK_CHANGES: Final = (ClockAdvised, ClockLimitPassed, ClockEnded)
"""Entries that need a clock to be there."""


def fold(plan: Plan, entries: Iterable[Entry]) -> Progress:
    """The progress that a record stands for; RecordError when it belongs to another check."""
    progress = Progress(plan)
    for entry in entries:
        progress = take_in(progress, entry)
    return progress


def take_in(progress: Progress, entry: Entry) -> Progress:
    """The progress with one more entry; RecordError when the entry does not fit the check or its clocks."""
    item = getattr(entry, "item", "")
    is_foreign = item and item not in progress.plan.check
    if is_foreign or (isinstance(entry, CLOCK_CHANGES) and item not in progress.clocks):
        raise RecordError(
            f'the record does not belong to the check "{progress.plan.check.name}": {type(entry).__name__} '
            f'of "{item}" has no place in it; open it with the check that it was made with'
        )
    after = FOLDS[type(entry)](progress, entry)
    carry_on(progress, after, item)
    return _with_moves(after)


def _with_moves(progress: Progress) -> Progress:
    """What the item that is asked now moves is out of its place from now on."""
    item = asked_item(progress)
    if item is None:
        return progress
    away = {move.switch for move in progress.moved}
    made = tuple(move for move in moves_of(progress.plan, item) if move.switch not in away)
    if not made:
        return progress
    after = replace(progress, moves=progress.moves + made)
    carry_on(progress, after)
    # In its turn and asked for no return, it stays the item that is asked.
    is_other = progress.is_returning or progress.is_done(item.name) or bool(switches_returned(item))
    for name in () if is_other else ("state_of", "item_in_force"):
        hand_on(name, progress, after)
    return after


def _start(progress: Progress, entry: RunStarted) -> Progress:
    return replace(progress, started_at=entry.at)


def _take_cautions(progress: Progress, _: CautionsTaken) -> Progress:
    return replace(progress, are_cautions_taken=True)


def _answer(progress: Progress, entry: AnswerRecorded) -> Progress:
    return replace(
        progress,
        history=progress.history.after(entry),
        answers={**progress.answers, entry.item: entry},
        put_off=_without(progress.put_off, entry.item),
        done=_grown(progress.done, entry.item),
        positions=progress.positions + _positions(progress.plan, entry),
        moves=_returned(progress, entry.item),
        stops=after_entry(progress.stops, entry),
        pending=None,
    )


def _returned(progress: Progress, name: str) -> tuple[Move, ...]:
    """The moves after an answer to this item, whatever it was: what it returns has been asked back.

    The last move of each switch counts as returned by this item, even where another one had returned it
    before: a correction of this answer leaves the switch out, to be asked back by this item.
    """
    back = switches_returned(progress.plan.check.item(name))
    if not back:
        return progress.moves
    last = {move.switch: number for number, move in enumerate(progress.moves)}
    return tuple(
        replace(move, back=name, returned_by=name)
        if move.switch in back and (last[move.switch] == number or not move.returned_by)
        else move
        for number, move in enumerate(progress.moves)
    )


def _stop(progress: Progress, entry: Stopped) -> Progress:
    stops = with_stop(progress.stops, entry, len(progress.done), _movers_to_return(progress, entry))
    return replace(progress, history=progress.history.after(entry), stops=stops, pending=None)


def _movers_to_return(progress: Progress, entry: Stopped) -> tuple[str, ...]:
    """Everything comes back first where a value lies under its floor and the selector is away from normal."""
    number = progress.plan.check.item(entry.item).body.number
    is_under = number is not None and number.is_under_floor(Decimal(entry.answer))
    is_away = bool(progress.positions) and progress.positions[-1].position != progress.plan.normal_position
    return tuple(dict.fromkeys(move.item for move in progress.moved)) if is_under and is_away else ()


def _follow_stop(progress: Progress, entry: StopSquawked | StopWithdrawn | StopRetried) -> Progress:
    stops = after_entry(progress.stops, entry)
    return replace(progress, history=progress.history.after(entry), stops=stops)


def _positions(plan: Plan, entry: AnswerRecorded) -> tuple[Position, ...]:
    position = plan.check.item(entry.item).body.selects
    if position is None or (entry.outcome is Outcome.SQUAWK and position == plan.normal_position):
        return ()
    return (Position(entry.origin.onset_at, position, entry.item),)


def _ask_confirmation(progress: Progress, entry: ConfirmationAsked) -> Progress:
    return replace(progress, pending=entry)


def _drop_confirmation(progress: Progress, _: ConfirmationDropped) -> Progress:
    return replace(progress, pending=None)


def _start_clock(progress: Progress, entry: ClockStarted) -> Progress:
    clocks = {**progress.clocks, entry.item: SpinUpClock(entry.item, entry.at)}
    return replace(progress, history=progress.history.after(entry), clocks=clocks)


def _set_clock(progress: Progress, item: str, **changes: Any) -> Progress:  # noqa: ANN401 - fields of a Clock
    clock = replace(progress.clocks[item], **changes)
    return replace(progress, clocks={**progress.clocks, item: clock})


def _advise(progress: Progress, entry: ClockAdvised) -> Progress:
    return _set_clock(progress, entry.item, is_advised=True)


def _pass_limit(progress: Progress, entry: ClockLimitPassed) -> Progress:
    return _set_clock(progress, entry.item, is_limit_passed=True)


def _end_clock(progress: Progress, entry: ClockEnded) -> Progress:
    ended = _set_clock(progress, entry.item, ended=entry)
    done = _grown(progress.done, entry.item)
    return replace(ended, history=progress.history.after(entry), done=done)


def _reopen(progress: Progress, entry: Reopened) -> Progress:
    """Back to unanswered; clocks that the item started are dropped, they start again with its next answer."""
    item = progress.plan.check.item(entry.item)
    stopped = {
        each.name
        for each in progress.plan.check.dependents(item.name)
        if each.body.clock is not None and each.body.clock.starts_on == item.name
    }
    opened = replace(
        progress,
        history=progress.history.after(entry),
        done=tuple(name for name in progress.done if name != item.name and name not in stopped),
        superseded=progress.superseded + _records(progress, entry.item),
        answers=_less(progress.answers, entry.item),
        unable=_less(progress.unable, entry.item),
        clocks={name: clock for name, clock in progress.clocks.items() if name not in stopped},
        moves=tuple(
            replace(move, returned_by="") if move.returned_by == item.name else move
            for move in progress.moves
        ),
    )
    if entry.item in opened.clocks:
        return _set_clock(opened, entry.item, ended=None)
    if item.body.selects == progress.plan.normal_position:
        return replace(opened, positions=tuple(held for held in progress.positions if held.item != item.name))
    return opened


def _records(progress: Progress, item: str) -> tuple[AnswerRecorded | ClockEnded | DeclaredUnable, ...]:
    clock = progress.clocks.get(item)
    records = (progress.answers.get(item), progress.unable.get(item), clock.ended if clock else None)
    return tuple(record for record in records if record is not None)


def _put_off(progress: Progress, entry: PutOff) -> Progress:
    put_off = (*progress.put_off, entry.item)
    return replace(progress, history=progress.history.after(entry), put_off=put_off)


def _declare_unable(progress: Progress, entry: DeclaredUnable) -> Progress:
    return replace(
        progress,
        history=progress.history.after(entry),
        unable={**progress.unable, entry.item: entry},
        put_off=_without(progress.put_off, entry.item),
        done=_grown(progress.done, entry.item),
    )


def _hold(progress: Progress, entry: Held) -> Progress:
    return replace(progress, held=entry, holds=progress.holds + 1)


def _release(progress: Progress, _: Released) -> Progress:
    return replace(progress, held=None)


def _warn(progress: Progress, entry: BatteryWarned) -> Progress:
    return replace(progress, battery_warning=entry)


CAUSES: Final[Mapping[Cause, Cause]] = {Cause.ROOM_QUIET: Cause.ROOM_LOUD, Cause.MIC_BACK: Cause.MIC_LOST}
"""What each good cause takes away."""


def _change_input(progress: Progress, entry: InputChanged) -> Progress:
    if entry.cause in CAUSES:
        return replace(progress, hindrances=progress.hindrances - {CAUSES[entry.cause]})
    return replace(progress, hindrances=progress.hindrances | {entry.cause})


def _change_port(progress: Progress, entry: PortChanged) -> Progress:
    others = {port: reason for port, reason in progress.lost.items() if port is not entry.port}
    return replace(progress, lost={**others, entry.port: entry.reason} if entry.is_lost else others)


def _start_note(progress: Progress, entry: NoteStarted) -> Progress:
    return replace(progress, noting=entry)


def _record_note(progress: Progress, entry: NoteRecorded | NoteTyped) -> Progress:
    is_empty = isinstance(entry, NoteRecorded) and not entry.clip
    notes = progress.notes if is_empty else (*progress.notes, entry)
    return replace(progress, noting=None, notes=notes)


def _interrupt(progress: Progress, _: Interrupted) -> Progress:
    """Reopening a run is a `continue`; a note is lost with the program; noise and failures are told anew."""
    return replace(
        progress,
        held=None,
        noting=None,
        hindrances=frozenset(),
        lost={},
        interruptions=progress.interruptions + 1,
    )


def _start_abandoning(progress: Progress, _: AbandonStarted) -> Progress:
    return replace(progress, is_abandoning=True, pending=None)


def _end(progress: Progress, entry: RunAbandoned | RunCompleted) -> Progress:
    return replace(progress, history=progress.history.after(entry))


FOLDS: Final[Mapping[type[Entry], Callable[[Progress, Any], Progress]]] = {
    RunStarted: _start,
    CautionsTaken: _take_cautions,
    AnswerRecorded: _answer,
    ConfirmationAsked: _ask_confirmation,
    ConfirmationDropped: _drop_confirmation,
    ClockStarted: _start_clock,
    ClockAdvised: _advise,
    ClockLimitPassed: _pass_limit,
    ClockEnded: _end_clock,
    Reopened: _reopen,
    PutOff: _put_off,
    DeclaredUnable: _declare_unable,
    Stopped: _stop,
    StopSquawked: _follow_stop,
    StopWithdrawn: _follow_stop,
    StopRetried: _follow_stop,
    Held: _hold,
    Released: _release,
    BatteryWarned: _warn,
    InputChanged: _change_input,
    PortChanged: _change_port,
    NoteStarted: _start_note,
    NoteRecorded: _record_note,
    NoteTyped: _record_note,
    Interrupted: _interrupt,
    AbandonStarted: _start_abandoning,
    RunAbandoned: _end,
    RunCompleted: _end,
}


def _grown(names: tuple[str, ...], *more: str) -> tuple[str, ...]:
    """Joined, not unpacked into a new one: of two thousand names that takes a sixth of the time."""
    return names + more


def _without(names: tuple[str, ...], name: str) -> tuple[str, ...]:
    return tuple(other for other in names if other != name) if name in names else names


def _less(table: Mapping[str, Any], name: str) -> dict[str, Any]:
    return {key: value for key, value in table.items() if key != name}
