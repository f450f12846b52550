"""Rows for what happens around the answers: time, a prompt's end, failures to hear, noise, the microphone."""

from dataclasses import replace

from runner.checklist.format.check import SILENCE_SECONDS
from runner.core.ask import prompt
from runner.core.ask.agenda import item_at_hand, item_in_force, spin_up_of
from runner.core.ask.alert import late_clocks
from runner.core.event import (
    Channel,
    MicBack,
    MicLost,
    Misheard,
    NoteEnded,
    PlaybackEnded,
    RoomGrewLoud,
    RoomGrewQuiet,
    Ticked,
)
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.record.battery_use import ampere_hours, owes_warning
from runner.core.record.entry import BatteryWarned, Cause, Entry, InputChanged, NoteRecorded, NoteTyped
from runner.core.record.spin_up_clock import due_entries

MISSES_BEFORE_KEYS = 2
"""Failures in a row after which the keys are offered."""


def tick(moment: Moment, event: Ticked) -> Reply | None:
    """Ask about clocks at their advise time and limit, warn of the battery, ask once more in a silence."""
    return tick_clocks(moment, event) or _reminder(moment, event.at)


def tick_clocks(moment: Moment, event: Ticked) -> Reply | None:
    """The same without the question once more: where only clocks are open, silence is right."""
    owed = _due_entries(moment, event.at)
    return Reply(owed) if owed else None


def hear_out(moment: Moment, event: PlaybackEnded) -> Reply | None:
    """The next breath, or the prompt was heard to its end: the response is timed from here, and silence."""
    if event.turn != moment.turn.number:
        return None
    if moment.turn.rest:
        return Reply(is_next_breath=True)
    return Reply(is_silent=True, heard_out_at=event.at)


def end_note(moment: Moment, event: NoteEnded) -> Reply | None:
    """Clip or typed words go on record; then the question at hand, with what the clocks could not say."""
    noting = moment.progress.noting
    if noting is None:
        return None
    spoken = prompt.NOTED if event.clip or event.text else prompt.NOT_NOTED
    recorded = NoteRecorded(event.at, noting.item, event.clip, event.seconds)
    typed = NoteTyped(event.at, noting.item, event.text)
    return Reply((typed if event.text else recorded,), spoken, alerts=late_clocks(moment.progress))


def _reminder(moment: Moment, at: float) -> Reply | None:
    """Nobody has said anything since the prompt's end; once a question, and it passes nothing."""
    turn = moment.turn
    if turn.is_reminded or turn.ended_at is None:
        return None
    item = item_at_hand(moment.progress) or item_in_force(moment.progress)
    patience = SILENCE_SECONDS if item is None else item.silence_seconds
    if at - turn.ended_at < patience:
        return None
    return Reply(preface=prompt.REMINDER, is_reminder=True)


def ask_again(moment: Moment, event: Misheard) -> Reply | None:
    """Never guess: ask again, and after two failures in a row offer the keys; another turn's is stale."""
    if event.turn != moment.turn.number or moment.progress.channel is Channel.KEYS:
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


def _due_entries(moment: Moment, at: float) -> tuple[Entry, ...]:
    """Advise times, limits and the battery's warning share that have come; mostly none."""
    due: list[Entry] = []
    for clock in moment.progress.open_clocks:
        _, body = spin_up_of(moment.progress, clock)
        due += due_entries(clock, body, at)
    if owes_warning(moment.progress, at):
        due.append(BatteryWarned(at, round(ampere_hours(moment.progress, at), 6)))
    return tuple(due)
