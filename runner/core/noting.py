"""Rows for a note being recorded: only a clock's phrase is taken meanwhile, and nothing is spoken into it."""

from dataclasses import replace

from runner.core import prompt
from runner.core.alert import late_clocks
from runner.core.entry import NoteRecorded
from runner.core.event import Answered, NoteEnded
from runner.core.flag import take_flag
from runner.core.reply import Moment, Reply
from runner.core.turn import counts
from runner.language.meaning import Pulled, Stuck


def take_flag_silently(moment: Moment, event: Answered) -> Reply | None:
    """A clock may end during a note."""
    if not isinstance(event.meaning, (Pulled, Stuck)) or not counts(event, moment.turn, moment.before):
        return None
    reply = take_flag(moment, event, event.meaning)
    return None if reply is None else replace(reply, is_silent=True)


def end_note(moment: Moment, event: NoteEnded) -> Reply | None:
    """The clip goes on record; back to the question at hand, with what the clocks could not say meanwhile."""
    noting = moment.progress.noting
    if noting is None:
        return None
    spoken = prompt.NOTED if event.clip else prompt.NOT_NOTED
    recorded = NoteRecorded(event.at, noting.item, event.clip, event.seconds)
    return Reply((recorded,), spoken, alerts=late_clocks(moment.progress))
