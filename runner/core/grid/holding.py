"""Rows for answers in a hold: most of what is said is not for the tool, so all but a few phrases pass by."""

from collections.abc import Mapping
from typing import Final

from runner.core.ask import prompt
from runner.core.ask.alert import late_clocks
from runner.core.event import Answered
from runner.core.grid.asking import take_meaning
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.grid.word import WordAction, ask_abandon, say_again, with_release
from runner.core.record.entry import Released
from runner.language.meaning import Word


def take_release(moment: Moment, event: Answered) -> Reply | None:
    """`continue` goes on; clocks end in a hold too."""
    return take_meaning(moment, event, HOLDING_WORDS)


def _release(moment: Moment, event: Answered, _word: Word) -> Reply:
    spoken = prompt.continuing(moment.progress)
    done = prompt.last_completed(moment.progress)
    return Reply((Released(event.at),), spoken, done, alerts=late_clocks(moment.progress))


def _abandon(moment: Moment, event: Answered, word: Word) -> Reply:
    return with_release(ask_abandon(moment, event, word), Released(event.at))


def _let_pass(_moment: Moment, _event: Answered, _word: Word) -> None:
    return None


HOLDING_WORDS: Final[Mapping[Word, WordAction]] = {
    **dict.fromkeys(Word, _let_pass),
    Word.CONTINUE: _release,
    Word.SAY_AGAIN: say_again,
    Word.ABANDON: _abandon,
}
