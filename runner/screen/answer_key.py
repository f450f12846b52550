"""Which key gives which answer: the check's own keys, and letters for words that a state waits for."""

from collections.abc import Iterable
from typing import Final

from runner.checklist.format.check import Outcome
from runner.core.ask.outlook import Possible
from runner.language.meaning import Command, Stuck, Word
from runner.screen.view import AnswerView

CONTINUE: Final = AnswerView("c", Word.CONTINUE.value, Command(Word.CONTINUE))
AFFIRM: Final = AnswerView("a", Word.AFFIRM.value, Command(Word.AFFIRM))
NEGATIVE: Final = AnswerView("n", Word.NEGATIVE.value, Command(Word.NEGATIVE))
ABANDON: Final = AnswerView("q", Word.ABANDON.value, Command(Word.ABANDON))
"""Where nothing but such a word is waited for, it needs no capital; no clock has these letters."""


def keyed(possible: Iterable[Possible]) -> tuple[AnswerView, ...]:
    """Answers as they are shown; that a gyro is stuck is always a squawk."""
    return tuple(
        AnswerView(
            one.response.key,
            one.response.label,
            one.meaning,
            Outcome.SQUAWK if isinstance(one.meaning, Stuck) else one.response.outcome,
        )
        for one in possible
    )
