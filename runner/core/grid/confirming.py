"""Rows for answers while a value out of its band, or an abandonment, waits for affirm or negative."""

from collections.abc import Mapping
from typing import Final

from runner.core.ask import prompt
from runner.core.ask.taken_answer import confirmed
from runner.core.event import Answered
from runner.core.grid.asking import take_meaning
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.grid.word import WORDS, WordAction, answer_nothing
from runner.core.record.entry import AbandonStarted, ClockStarted, ConfirmationDropped
from runner.language.meaning import Word


def take_confirmation(moment: Moment, event: Answered) -> Reply | None:
    """Affirm, negative, or a new number; clocks and standard words as ever."""
    return take_meaning(moment, event, CONFIRMING_WORDS)


def _affirm(moment: Moment, event: Answered, _word: Word) -> Reply | None:
    pending = moment.progress.pending
    if pending is None:
        return None
    if pending.number is None and pending.item:
        restarted = (ClockStarted(event.at, clock.item) for clock in moment.progress.open_clocks)
        return Reply((ConfirmationDropped(event.at, pending.item), *restarted), prompt.RESTARTED)
    if pending.number is None:
        return Reply((AbandonStarted(event.at),))
    return confirmed(moment, event, pending, pending.number)


def _repeat(_moment: Moment, _event: Answered, _word: Word) -> Reply:
    """What was received, with its question: it repeats and takes nothing (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    return Reply()


def _drop(moment: Moment, event: Answered, _word: Word) -> Reply | None:
    pending = moment.progress.pending
    return None if pending is None else Reply((ConfirmationDropped(event.at, pending.item),))


CONFIRMING_WORDS: Final[Mapping[Word, WordAction]] = {
    **WORDS,
    Word.AFFIRM: _affirm,
    Word.CONFIRM: _repeat,
    Word.NEGATIVE: _drop,
    Word.DISREGARD: _drop,
    Word.CORRECTION: _drop,
    Word.UNABLE: answer_nothing,
    Word.PUT_OFF: answer_nothing,
}
