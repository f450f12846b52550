"""Rows for answers while a stop stands: the safe answer, a new reading, standby, or the way out."""

from collections.abc import Mapping
from typing import Final

from runner.core import prompt
from runner.core.asking import take_meaning
from runner.core.entry import Entry, Reopened, StopRetried, StopSquawked
from runner.core.event import Answered
from runner.core.reply import Moment, Reply
from runner.core.word import WORDS, WordAction
from runner.language.meaning import Word


def take_remedy(moment: Moment, event: Answered) -> Reply | None:
    """What ends the stop, or why it does not; clocks end as ever."""
    return take_meaning(moment, event, STOP_WORDS)


def _refuse(_moment: Moment, _event: Answered, word: Word) -> Reply:
    return Reply(preface=prompt.ends_no_stop(word.value))


def _retry(moment: Moment, event: Answered, word: Word) -> Reply | None:
    """Where everything was put back for the stop, what it takes is asked again, and then the reading."""
    progress = moment.progress
    stop = progress.stop
    if stop is None:
        return None
    if not stop.movers:
        return _refuse(moment, event, word)
    done = [name for name in stop.movers if name in progress.answers or name in progress.unable]
    reopened: list[Entry] = [Reopened(event.at, name) for name in reversed(done)]
    return Reply((*reopened, StopRetried(event.at, stop.item)), prompt.CONTINUING)


def _squawk(moment: Moment, event: Answered, _word: Word) -> Reply | None:
    """On record for maintenance, once a stop; the stop stays."""
    stop = moment.progress.stop
    if stop is None:
        return None
    if stop.squawked_at is not None:
        return Reply(preface=prompt.SQUAWKED)
    found = stop.found
    return Reply((StopSquawked(event.at, stop.item, found.answer, found.unit),), prompt.SQUAWKED)


STOP_WORDS: Final[Mapping[Word, WordAction]] = {
    **WORDS,
    Word.CONTINUE: _retry,
    Word.UNABLE: _refuse,
    Word.PUT_OFF: _refuse,
    Word.SQUAWK: _squawk,
}
