"""Typed lines for a terminal without a screen: a key, a number, or the words themselves."""

from dataclasses import replace
from typing import Final

from runner.core.state import FINAL, State
from runner.language.catalogue import Word
from runner.language.meaning import Command, Corrected, Value
from runner.screen.drill_key import drill_words
from runner.screen.keys import (
    EXPECTED_KEY,
    Helped,
    Intent,
    KeyedAnswer,
    Left,
    NoteClosed,
    NoteWritten,
    Refused,
    Typed,
    enter_number,
    key_to_intent,
    keyed_answer,
)
from runner.screen.view import View

_ANEW: Final = (Word.CORRECTION.value + " ", Word.CORRECTION.value + ",")


def line_to_intent(line: str, view: View) -> Intent | Refused | Helped:
    """What one line means at this view: one key, a reading's number, a response or a standard word."""
    words = " ".join(line.split())
    if view.state in FINAL:
        return Left()
    if view.is_note_typed:
        return NoteWritten(words) if words else NoteClosed()
    if not words and EXPECTED_KEY in line:
        return _key(EXPECTED_KEY, view)
    if not words:
        return NoteClosed() if view.state is State.NOTING else Refused("type a key, a number or words")
    if words.lower().startswith(_ANEW):
        return _corrected(words[len(_ANEW[0]) :].lstrip(", "), view)
    return _number(words, view) or _keyed(words, view) or _spoken(words.lower(), view)


def _corrected(words: str, view: View) -> KeyedAnswer | Refused:
    """The new answer of the item answered last, behind the word; refused where it takes none at once."""
    intent = _number(words, replace(view, gauge=view.corrected_gauge))
    if isinstance(intent, KeyedAnswer) and isinstance(intent.meaning, Value):
        return KeyedAnswer(view.turn, Corrected(intent.meaning), f"{Word.CORRECTION}, {intent.text}")
    if intent is not None:
        return intent
    for answer in view.corrections:
        if words.lower() in (answer.label.lower(), answer.say):
            return KeyedAnswer(view.turn, answer.meaning, f"{Word.CORRECTION}, {answer.label}")
    return Refused(f'"{words}" corrects nothing here')


def _number(words: str, view: View) -> KeyedAnswer | Refused | None:
    """The line as the reading in force; None when it is no number or none is asked."""
    number = words.replace(",", ".")
    if view.gauge is None or not number.lstrip("-").replace(".", "").isdecimal():
        return None
    return enter_number(number, view.gauge, view.turn)


def _keyed(words: str, view: View) -> Intent | Refused | Helped | None:
    """The line as one key; None when it is longer."""
    if len(words) != 1:
        return None
    if (reply := drill_words(words, view)) is not None:
        return reply
    return _key(words, view)


def _key(key: str, view: View) -> Intent | Refused | Helped:
    """What one key gives; a line holds the whole number, never a part of it."""
    intent = key_to_intent(key, view)
    return Refused("type the whole number") if isinstance(intent, Typed) else intent


def _spoken(words: str, view: View) -> KeyedAnswer | Refused:
    """The line as the words of an answer."""
    open_answers = (answer for clock in view.clocks for answer in clock.answers)
    for answer in (*view.answers, *open_answers):
        if words in (answer.label.lower(), answer.say):
            return keyed_answer(answer, view)
    for word in view.words:
        if word.value == words:
            return KeyedAnswer(view.turn, Command(word), word.value)
    return drill_words(words, view) or Refused(f'"{words}" answers nothing here')
