"""Rows for Started: a new run, and a run reopened after the program stopped."""

from runner.core import prompt
from runner.core.entry import ConfirmationAsked, ConfirmationDropped, Entry, Interrupted, RunStarted
from runner.core.event import Started
from runner.core.reply import Moment, Reply


def start(moment: Moment, event: Started) -> Reply:
    """Read the cautions."""
    return Reply((RunStarted(event.at),), prompt.cautions(moment.progress))


def reopen_run(moment: Moment, event: Started) -> Reply:
    """Go on at the same place, with the last completed item first (FSF ALAR Briefing Note 1.5)."""
    interrupted = Interrupted(event.at)
    words = prompt.continuing(moment.progress, event.at)
    if not event.is_set_back:
        return Reply((interrupted,), words)
    words = prompt.sentences(prompt.SET_BACK, words)
    clocks = moment.progress.open_clocks
    if not clocks:
        return Reply((interrupted,), words)
    pending = moment.progress.pending
    dropped: tuple[Entry, ...] = () if pending is None else (ConfirmationDropped(event.at, pending.item),)
    return Reply((interrupted, *dropped, _restart_question(event.at, clocks[0].item)), words)


def _restart_question(at: float, clock: str) -> ConfirmationAsked:
    """Nobody knows for how long the clocks ran: whether to start them anew is the pilot's to say."""
    return ConfirmationAsked(
        at=at,
        item=clock,
        number=None,
        onset_at=at,
        response_seconds=None,
        is_hasty=False,
        text="",
        confidence=1.0,
        channel="",
    )


def tell_end(_moment: Moment, _event: Started) -> Reply:
    """A run that has ended only says how it ended."""
    return Reply()
