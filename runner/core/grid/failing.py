"""Rows for a part of the tool that fails or serves again: on record, on the screen, and said if it can be."""

from dataclasses import replace
from typing import Final

from runner.core.ask import prompt
from runner.core.ask.alert import late_clocks
from runner.core.event import Channel, Port, PortBack, PortFailed
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.record.entry import NoteRecorded, PortChanged

SPOKEN: Final = {
    Port.EAR: prompt.EAR_LOST,
    Port.MICROPHONE: prompt.MIC_LOST,
    Port.SCREEN: prompt.SCREEN_LOST,
}
"""What is said of a loss. Of the others the screen tells: a voice that fails cannot say so."""

HEARING: Final = frozenset({Port.EAR, Port.MICROPHONE})
"""Without one of these answers go by keys."""


def lose_port(moment: Moment, event: PortFailed) -> Reply | None:
    """The run goes on without it; what is asked is asked again where the way of answering changes."""
    if event.port in moment.progress.lost:
        return None
    changed = PortChanged(event.at, event.port, is_lost=True, reason=event.reason)
    spoken = SPOKEN.get(event.port, "")
    return Reply((changed,), spoken, is_silent=not spoken)


def lose_port_in_note(moment: Moment, event: PortFailed) -> Reply | None:
    """A note cannot end without an ear: it is given up, and the run goes back to its question."""
    reply, noting = lose_port(moment, event), moment.progress.noting
    if reply is None or noting is None or event.port not in HEARING:
        return None if reply is None else replace(reply, is_silent=True)
    spoken = prompt.sentences(reply.preface, prompt.NOT_NOTED)
    entries = (*reply.entries, NoteRecorded(event.at, noting.item, "", 0.0))
    return Reply(entries, spoken, alerts=late_clocks(moment.progress))


def regain_port(moment: Moment, event: PortBack) -> Reply | None:
    """Said when answers are taken by voice again."""
    if event.port not in moment.progress.lost:
        return None
    changed = PortChanged(event.at, event.port, is_lost=False, reason="")
    hears_again = event.port in HEARING and moment.progress.after(changed).channel is Channel.VOICE
    return Reply((changed,), prompt.QUIET if hears_again else "", is_silent=not hears_again)
