"""Typed lines for a terminal without a screen: a key, a number, or the words themselves."""

from runner.core.state import FINAL, State
from runner.language.meaning import Command
from runner.screen.keys import (
    Intent,
    KeyedAnswer,
    Left,
    NoteClosed,
    Refused,
    enter_number,
    key_to_intent,
    keyed_answer,
)
from runner.screen.view import View


def line_to_intent(line: str, view: View) -> Intent | Refused:
    """What one line means at this view: one key, a reading's number, a response or a standard word."""
    words = " ".join(line.split())
    if view.state in FINAL:
        return Left()
    if not words:
        return NoteClosed() if view.state is State.NOTING else Refused("type a key, a number or words")
    return _number(words, view) or _keyed(words, view) or _spoken(words.lower(), view)


def _number(words: str, view: View) -> KeyedAnswer | Refused | None:
    """The line as the reading in force; None when it is no number or none is asked."""
    number = words.replace(",", ".")
    if view.gauge is None or not number.lstrip("-").replace(".", "").isdecimal():
        return None
    return enter_number(number, view.gauge, view.turn)


def _keyed(words: str, view: View) -> Intent | Refused | None:
    """The line as one key; None when it is longer."""
    if len(words) != 1:
        return None
    intent = key_to_intent(words, view)
    return intent if isinstance(intent, KeyedAnswer | NoteClosed | Left | Refused) else None


def _spoken(words: str, view: View) -> KeyedAnswer | Refused:
    """The line as the words of an answer."""
    open_answers = (answer for clock in view.clocks for answer in clock.answers)
    for answer in (*view.answers, *open_answers):
        if answer.label.lower() == words:
            return keyed_answer(answer, view)
    for word in view.words:
        if word.value == words:
            return KeyedAnswer(view.turn, Command(word), word.value)
    return Refused(f'"{words}" answers nothing here')
