"""Rows for Started: a new run, and a run reopened after the program stopped."""

from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.ask import prompt
from runner.core.ask.alert import standing_alerts
from runner.core.event import Started
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.record.entry import ConfirmationAsked, ConfirmationDropped, Entry, Interrupted, RunStarted


def start(moment: Moment, event: Started) -> Reply:
    """Read the cautions."""
    return Reply((RunStarted(event.at),), prompt.cautions(moment.progress))


def reopen_run(moment: Moment, event: Started) -> Reply:
    """Go on at the same place, with the last completed item first (FSF ALAR Briefing Note 1.5).

    Nobody knows what was heard before the program stopped, so every alert that still counts is said again.
    """
    progress = moment.progress
    spoken, alerts = prompt.continuing(progress), standing_alerts(progress)
    if event.is_set_back:
        spoken = prompt.sentences(prompt.SET_BACK, spoken)
    entries = (Interrupted(event.at), *(_restart_entries(moment, event.at) if event.is_set_back else ()))
    return Reply(entries, spoken, prompt.last_completed(progress), alerts=alerts)


def _restart_entries(moment: Moment, at: float) -> tuple[Entry, ...]:
    """Nobody knows for how long the clocks ran: whether to start them anew is the pilot's to say."""
    clocks = moment.progress.open_clocks
    if not clocks:
        return ()
    pending = moment.progress.pending
    dropped: tuple[Entry, ...] = () if pending is None else (ConfirmationDropped(at, pending.item),)
    of_the_tool = AnswerOrigin(at, None, is_hasty=False, reception=Reception("", 1.0, ""))
    return (*dropped, ConfirmationAsked(at, clocks[0].item, None, of_the_tool))


def tell_end(_moment: Moment, _event: Started) -> Reply:
    """A run that has ended only says how it ended."""
    return Reply()
