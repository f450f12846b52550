"""Rows for Started: a new run, and a run reopened after the program stopped."""

from runner.core import prompt
from runner.core.alert import standing_alerts
from runner.core.entry import Interrupted, RunStarted
from runner.core.event import Started
from runner.core.reply import Moment, Reply


def start(moment: Moment, event: Started) -> Reply:
    """Read the cautions."""
    return Reply((RunStarted(event.at),), prompt.cautions(moment.progress))


def reopen_run(moment: Moment, event: Started) -> Reply:
    """Go on at the same place, with the last completed item first (FSF ALAR Briefing Note 1.5).

    Nobody knows what was heard before the program stopped, so every alert that still counts is said again.
    """
    spoken = prompt.continuing(moment.progress)
    return Reply((Interrupted(event.at),), spoken, alerts=standing_alerts(moment.progress))


def tell_end(_moment: Moment, _event: Started) -> Reply:
    """A run that has ended only says how it ended."""
    return Reply()
