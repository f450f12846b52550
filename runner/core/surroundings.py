"""Rows for what happens around the answers: time, a prompt's end, failures to hear, noise, the microphone."""

from dataclasses import replace

from runner.core import prompt
from runner.core.agenda import spin_up_of
from runner.core.battery import ampere_hours, owes_warning, share_used
from runner.core.clock import due_entries
from runner.core.entry import BatteryWarned, Cause, ClockAdvised, ClockLimitPassed, InputChanged
from runner.core.event import (
    Channel,
    MicBack,
    MicLost,
    Misheard,
    PlaybackEnded,
    RoomGrewLoud,
    RoomGrewQuiet,
    Ticked,
)
from runner.core.reply import Moment, Reply
from runner.core.turn import counts

MISSES_BEFORE_KEYS = 2
"""Failures in a row after which the keys are offered."""


def tick(moment: Moment, event: Ticked) -> Reply | None:
    """Ask about clocks that come to their advise time or limit; warn of the battery; mostly None."""
    clocks = _due_clocks(moment, event.at)
    battery: tuple[BatteryWarned, ...] = ()
    warning = ""
    if owes_warning(moment.progress, event.at):
        battery = (BatteryWarned(event.at, round(ampere_hours(moment.progress, event.at), 6)),)
        warning = prompt.battery(share_used(moment.progress, event.at))
    if not clocks and not battery:
        return None
    progress = moment.progress
    for entry in clocks:
        progress = progress.after(entry)
    names = dict.fromkeys(entry.item for entry in clocks)
    advice = (prompt.advice(progress, progress.clocks[name], event.at) for name in names)
    return Reply((*clocks, *battery), prompt.sentences(*advice, warning))


def tick_silently(moment: Moment, event: Ticked) -> Reply | None:
    """In a hold and in a note: on record and on the screen, spoken when the run goes on."""
    return _silently(tick(moment, event))


def hear_out(moment: Moment, event: PlaybackEnded) -> Reply | None:
    """The challenge was heard to its end: the response is timed from here."""
    if event.turn != moment.turn.number or moment.turn.asked_at is not None:
        return None
    return Reply(is_silent=True, heard_out_at=event.at)


def ask_again(moment: Moment, event: Misheard) -> Reply | None:
    """Never guess: ask again, and after two failures in a row offer the keys."""
    if not counts(event, moment.turn, moment.before) or moment.progress.channel is Channel.KEYS:
        return None
    spoken = prompt.KEYS if moment.misses + 1 >= MISSES_BEFORE_KEYS else prompt.SAY_AGAIN
    return Reply(preface=spoken, is_miss=True)


SPOKEN = {
    Cause.ROOM_LOUD: prompt.TOO_LOUD,
    Cause.ROOM_QUIET: prompt.QUIET,
    Cause.MIC_LOST: prompt.MIC_LOST,
    Cause.MIC_BACK: prompt.MIC_BACK,
}

WorldEvent = RoomGrewLoud | RoomGrewQuiet | MicLost | MicBack

CAUSES: dict[type[WorldEvent], Cause] = {
    RoomGrewLoud: Cause.ROOM_LOUD,
    RoomGrewQuiet: Cause.ROOM_QUIET,
    MicLost: Cause.MIC_LOST,
    MicBack: Cause.MIC_BACK,
}


def change_input(moment: Moment, event: WorldEvent) -> Reply | None:
    """Voice gives way to keys while the room is too loud or the microphone is gone."""
    cause = CAUSES[type(event)]
    changed = InputChanged(event.at, "", cause)
    after = moment.progress.after(changed)
    if after.hindrances == moment.progress.hindrances:
        return None
    return Reply((replace(changed, channel=after.channel.value),), SPOKEN[cause])


def change_input_silently(moment: Moment, event: WorldEvent) -> Reply | None:
    """The same before the start, in a hold and in a note."""
    return _silently(change_input(moment, event))


def _silently(reply: Reply | None) -> Reply | None:
    return None if reply is None else replace(reply, is_silent=True)


def _due_clocks(moment: Moment, at: float) -> tuple[ClockAdvised | ClockLimitPassed, ...]:
    due: list[ClockAdvised | ClockLimitPassed] = []
    for clock in moment.progress.open_clocks:
        _, body = spin_up_of(moment.progress, clock)
        due += due_entries(clock, body, at)
    return tuple(due)
