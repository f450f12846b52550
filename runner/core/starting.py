"""Rows for Started: a new run, and a run reopened after the program stopped."""

from runner.core import prompt
from runner.core.entry import Interrupted, RunStarted
from runner.core.event import Started
from runner.core.reply import Moment, Reply


def start(moment: Moment, event: Started) -> Reply:
    """Read the cautions."""
    return Reply((RunStarted(event.at),), prompt.cautions(moment.progress))


def reopen_run(moment: Moment, event: Started) -> Reply:
    """Go on at the same place, with the last completed item first (FSF ALAR Briefing Note 1.5)."""
    return Reply((Interrupted(event.at),), prompt.continuing(moment.progress, event.at))


def tell_end(_moment: Moment, _event: Started) -> Reply:
    """A run that has ended only says how it ended."""
    return Reply()
