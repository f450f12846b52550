"""The key map: which key at which view means what. Pure: a key's name and a view in, an intent out."""

from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from types import MappingProxyType
from typing import Final

from runner.core.state import FINAL, State
from runner.language.catalogue import Word
from runner.language.meaning import Command, Meaning, Value
from runner.screen.view import AnswerView, Gauge, View


@dataclass(frozen=True, slots=True)
class KeyedAnswer:
    """The pilot answered by key; the session makes the event out of it."""

    turn: int
    meaning: Meaning
    text: str
    """The answer's words, for the record."""


@dataclass(frozen=True, slots=True)
class NoteClosed:
    """The pilot has said the note; its recording ends."""


@dataclass(frozen=True, slots=True)
class NoteWritten:
    """The pilot has typed the note."""

    text: str


@dataclass(frozen=True, slots=True)
class Left:
    """The pilot leaves the program; a run that is not over stays open and can be gone on with."""


Intent = KeyedAnswer | NoteClosed | NoteWritten | Left
"""What a screen hands to the session."""


@dataclass(frozen=True, slots=True)
class Typed:
    """The digits of a reading or the words of a note so far; stays inside the screen."""

    text: str


@dataclass(frozen=True, slots=True)
class Helped:
    """The pilot wants to see the keys; stays inside the screen."""


@dataclass(frozen=True, slots=True)
class Refused:
    """The key gives no answer here; stays inside the screen."""

    reason: str


EXPECTED_KEY: Final = " "
"""Gives the answer that is expected, where one is."""
HELP_KEY: Final = "?"
"""Shows the keys; the screen's own."""

Answering = Intent | Typed | Helped | Refused
"""What a key can give."""

WORD_KEYS: Final = MappingProxyType({word.key: word for word in Word if word.key})
"""Capital letters are the standard words, so that they clash with no item's small letter."""

LEAVE_KEYS: Final = ("ctrl+q", "ctrl+c")
_CLOSING: Final = (*LEAVE_KEYS, "Q", "q", "enter", "escape")
_LONGEST: Final = 8
"""Digits that an entry can have; more is a slip of the hand."""
_LONGEST_NOTE: Final = 240
"""Characters that a typed note can have."""


def key_to_intent(key: str, view: View) -> Answering:
    """What a key means at this view.

    Keys are single characters, or the names enter, backspace, escape, ctrl+q and ctrl+c.
    """
    if key == HELP_KEY and not view.is_note_typed:
        return Helped()
    if view.state in FINAL:
        return Left() if key in _CLOSING else Refused("the run is over; q closes the screen")
    if key in LEAVE_KEYS:
        return _leave(view)
    if view.is_note_typed:
        return _write(key, view)
    if view.state is State.NOTING and key == "enter":
        return NoteClosed()
    typed = None if view.gauge is None else _type(key, view.gauge, view)
    return typed or _answer(key, view)


def keyed_answer(answer: AnswerView, view: View) -> KeyedAnswer:
    """The intent of one of the view's answers."""
    return KeyedAnswer(view.turn, answer.meaning, answer.label)


def enter_number(text: str, gauge: Gauge, turn: int) -> KeyedAnswer | Refused:
    """The reading that the digits make, or why they make none."""
    try:
        number = Decimal(text)
    except InvalidOperation:
        return Refused("type the number, then enter")
    if not number.is_finite() or not gauge.low <= number <= gauge.high:
        return Refused(f"{text} cannot be; {gauge.low} to {gauge.high} {gauge.unit} can be entered")
    if number % gauge.resolution:
        return Refused(f"{text} is finer than the gauge; it shows steps of {gauge.resolution}")
    return KeyedAnswer(turn, Value(gauge.item, number), f"{number} {gauge.unit}")


def may_leave(view: View) -> bool:
    """The program may be left while abandoning is asked or under way: the run stays open in the record."""
    is_asked = view.state is State.CONFIRMING and view.gauge is None
    is_way_out = view.state is State.RESTORING and (view.is_abandoning or not view.stop)
    return is_asked or is_way_out


def _leave(view: View) -> KeyedAnswer | Left | NoteClosed:
    """The first time asks whether to abandon; where nothing comes of that, the second time leaves."""
    if view.state is State.NOTING and not view.is_left:
        return NoteClosed()
    if view.is_left or may_leave(view) or Word.ABANDON not in view.words:
        return Left()
    return KeyedAnswer(view.turn, Command(Word.ABANDON), Word.ABANDON.value)


def _write(key: str, view: View) -> NoteWritten | NoteClosed | Typed | Refused:
    """A note in letters; enter keeps it, escape drops it."""
    if key == "enter":
        text = " ".join(view.typed.split())
        return NoteWritten(text) if text else NoteClosed()
    if key == "escape":
        return NoteClosed()
    if key == "backspace":
        return Typed(view.typed[:-1])
    if len(key) == 1 and key.isprintable():
        return Typed((view.typed + key)[:_LONGEST_NOTE])
    return Refused("type the note; enter keeps it, escape drops it")


def _type(key: str, gauge: Gauge, view: View) -> Typed | KeyedAnswer | Refused | None:
    """Number entry; None when the key has no part in it."""
    if key == "enter":
        return enter_number(view.typed, gauge, view.turn)
    if key == "backspace":
        return Typed(view.typed[:-1])
    if key == "escape":
        return Typed("")
    if len(key) == 1 and key in "0123456789.,":
        return Typed((view.typed + key.replace(",", "."))[:_LONGEST])
    if key == "-" and gauge.low < 0 and not view.typed:
        return Typed("-")
    return None


def _answer(key: str, view: View) -> KeyedAnswer | Refused:
    """An answer in force, an open clock's answer, or a standard word in force."""
    open_answers = (answer for clock in view.clocks for answer in clock.answers)
    for answer in (*view.answers, *open_answers):
        if answer.key == key or (answer.is_expected and key == EXPECTED_KEY):
            return keyed_answer(answer, view)
    word = WORD_KEYS.get(key)
    if key == EXPECTED_KEY:
        return Refused(_no_expected(view))
    if word is None or word not in view.words:
        return Refused(f'"{key}" answers nothing here')
    return KeyedAnswer(view.turn, Command(word), word.value)


def _no_expected(view: View) -> str:
    """Why the space bar gives nothing at this view."""
    if view.gauge is not None and not view.question:
        return "type the number, then enter"
    what = "a critical item" if view.is_critical else "this"
    return f"space does not answer {what}; use the letter" if view.answers else "space answers nothing here"
