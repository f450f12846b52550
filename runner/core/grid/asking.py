"""Rows for answers in the briefing, while an item is asked, and while only clocks are open."""

from collections.abc import Mapping
from typing import Final

from runner.core.ask import prompt
from runner.core.ask.flag import take_flag
from runner.core.ask.taken_answer import take_pick, take_value
from runner.core.event import Answered
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.grid.turn import counts
from runner.core.grid.word import (
    WORDS,
    WordAction,
    answer_nothing,
    ask_abandon,
    hold,
    say_twice,
    speak_slower,
    take_word,
)
from runner.core.record.entry import CautionsTaken
from runner.language.meaning import Command, Picked, Value, Word


def take_answer(moment: Moment, event: Answered) -> Reply | None:
    """An answer to the item in force, a clock's phrase, or a standard word."""
    return take_meaning(moment, event, WORDS)


def take_briefing_word(moment: Moment, event: Answered) -> Reply | None:
    """`continue` after the cautions; nothing else goes on."""
    return take_meaning(moment, event, BRIEFING_WORDS)


def take_meaning(moment: Moment, event: Answered, words: Mapping[Word, WordAction]) -> Reply | None:
    """What was said, by its kind; None when it is stale."""
    if not counts(event, moment.turn, moment.before):
        return None
    match event.meaning:
        case Command() as meaning:
            return take_word(moment, event, meaning, words)
        case Picked() as meaning:
            return take_pick(moment, event, meaning)
        case Value() as meaning:
            return take_value(moment, event, meaning)
        case meaning:
            return take_flag(moment, event, meaning)


def _say_all(moment: Moment, _event: Answered, _word: Word) -> Reply:
    """All cautions, also for who has heard them before."""
    said = prompt.sentences(prompt.cautions(moment.progress, in_full=True), prompt.question(moment.progress))
    return Reply(preface=said, is_repetition=True)


def _take_cautions(_moment: Moment, event: Answered, _word: Word) -> Reply:
    return Reply((CautionsTaken(event.at),))


BRIEFING_WORDS: Final[Mapping[Word, WordAction]] = {
    **dict.fromkeys(Word, answer_nothing),
    Word.CONTINUE: _take_cautions,
    Word.SAY_AGAIN: _say_all,
    Word.SPEAK_SLOWER: speak_slower,
    Word.WORDS_TWICE: say_twice,
    Word.STANDBY: hold,
    Word.ABANDON: ask_abandon,
}
