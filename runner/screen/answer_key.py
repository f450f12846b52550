"""Which key gives which answer: the check's own keys, letters for words that a state waits for, and space.

The space bar gives what is expected, so that the hand need not look for a letter; but not where a habit
could hurt: at a critical item, at a stop, at a question whether something is really so.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from runner.checklist.format.check import Response
from runner.checklist.format.phrase import phrase_of
from runner.core.ask.outlook import Possible
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Command, Stuck
from runner.screen.view import AnswerView

CONTINUE: Final = AnswerView("c", Word.CONTINUE.value, Command(Word.CONTINUE))
GO_ON: Final = AnswerView("c", Word.CONTINUE.value, Command(Word.CONTINUE), is_expected=True)
AFFIRM: Final = AnswerView("a", Word.AFFIRM.value, Command(Word.AFFIRM))
NEGATIVE: Final = AnswerView("n", Word.NEGATIVE.value, Command(Word.NEGATIVE))
ABANDON: Final = AnswerView("q", Word.ABANDON.value, Command(Word.ABANDON))
"""Where nothing but such a word is waited for, it needs no capital; no clock has these letters."""


def keyed(possible: Iterable[Possible], *, has_space: bool = False) -> tuple[AnswerView, ...]:
    """Answers as they are shown; that a gyro is stuck is always a squawk.

    With `has_space` the only answer that passes is expected; where several do, none is.
    """
    answers = tuple(
        AnswerView(
            one.response.key,
            one.response.label,
            one.meaning,
            Outcome.SQUAWK if isinstance(one.meaning, Stuck) else one.response.outcome,
            _said_otherwise(one.response),
        )
        for one in possible
    )
    if not has_space or sum(one.outcome is Outcome.PASS for one in answers) != 1:
        return answers
    return tuple(replace(one, is_expected=one.outcome is Outcome.PASS) for one in answers)


def _said_otherwise(response: Response) -> str:
    """The author's phrase, where the label is not what the ear takes."""
    is_said = not response.phrases or phrase_of(response.label) in response.phrases
    return "" if is_said else response.phrases[0]
