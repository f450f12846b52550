"""Rows for a note being recorded: only a clock's phrase is taken meanwhile, and nothing is spoken into it."""

from dataclasses import replace

from runner.core.ask import prompt
from runner.core.ask.alert import late_clocks
from runner.core.ask.flag import take_flag
from runner.core.event import Answered, NoteEnded
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.grid.turn import counts
from runner.core.record.entry import NoteRecorded, NoteTyped
from runner.language.meaning import Pulled, Stuck


def take_flag_silently(moment: Moment, event: Answered) -> Reply | None:
    """A clock may end during a note."""
    if not isinstance(event.meaning, (Pulled, Stuck)) or not counts(event, moment.turn, moment.before):
        return None
    reply = take_flag(moment, event, event.meaning)
    return None if reply is None else replace(reply, is_silent=True)


def end_note(moment: Moment, event: NoteEnded) -> Reply | None:
    """Clip or typed words go on record; then the question at hand, with what the clocks could not say."""
    noting = moment.progress.noting
    if noting is None:
        return None
    spoken = prompt.NOTED if event.clip or event.text else prompt.NOT_NOTED
    recorded = NoteRecorded(event.at, noting.item, event.clip, event.seconds)
    typed = NoteTyped(event.at, noting.item, event.text)
    return Reply((typed if event.text else recorded,), spoken, alerts=late_clocks(moment.progress))
