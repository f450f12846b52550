"""The key map as a table: what each key means at each view."""

from dataclasses import replace
from decimal import Decimal

import pytest

from runner.language.catalogue import Word
from runner.language.meaning import Command, Value
from runner.screen.keys import (
    WORD_KEYS,
    Helped,
    Intent,
    KeyedAnswer,
    Left,
    NoteClosed,
    NoteWritten,
    Refused,
    Typed,
    key_to_intent,
    keyed_answer,
)
from runner.screen.view import View
from tests.screen.sample import (
    AFFIRM,
    ASKING,
    BRIEFING,
    COMPLETE,
    CONFIRMING,
    GO_ON,
    HOLDING,
    LAMPS,
    LEAVING,
    LEFT,
    NEGATIVE,
    NOTING,
    READING,
    RESTORING,
    RIGHT,
    STOPPED,
    STUCK,
    TYPING,
    UNDER_FLOOR,
    VIEWS,
    WAITING,
)

ABANDON = KeyedAnswer(9, Command(Word.ABANDON), "abandon check")

TABLE: list[tuple[str, View, Intent | Typed | Helped]] = [
    *((answer.key, ASKING, keyed_answer(answer, ASKING)) for answer in LAMPS),
    ("c", BRIEFING, keyed_answer(GO_ON, BRIEFING)),
    (" ", BRIEFING, keyed_answer(GO_ON, BRIEFING)),
    ("c", HOLDING, keyed_answer(GO_ON, HOLDING)),
    (" ", HOLDING, keyed_answer(GO_ON, HOLDING)),
    (" ", ASKING, keyed_answer(LAMPS[0], ASKING)),
    ("?", ASKING, Helped()),
    ("?", COMPLETE, Helped()),
    ("l", TYPING, Typed("l")),
    ("Q", replace(TYPING, typed="lamp "), Typed("lamp Q")),
    ("?", replace(TYPING, typed="why"), Typed("why?")),
    (" ", replace(TYPING, typed="left"), Typed("left ")),
    ("backspace", replace(TYPING, typed="left"), Typed("lef")),
    ("enter", replace(TYPING, typed=" left lamp  flickers "), NoteWritten("left lamp flickers")),
    ("enter", replace(TYPING, typed="  "), NoteClosed()),
    ("escape", replace(TYPING, typed="left"), NoteClosed()),
    ("ctrl+q", replace(TYPING, typed="left"), NoteClosed()),
    ("a", CONFIRMING, keyed_answer(AFFIRM, CONFIRMING)),
    ("n", CONFIRMING, keyed_answer(NEGATIVE, CONFIRMING)),
    ("g", READING, keyed_answer(LEFT.answers[0], READING)),
    ("y", READING, keyed_answer(RIGHT.answers[0], READING)),
    ("g", HOLDING, keyed_answer(LEFT.answers[0], HOLDING)),
    ("y", WAITING, keyed_answer(STUCK.answers[0], WAITING)),
    ("k", WAITING, keyed_answer(STUCK.answers[1], WAITING)),
    ("n", RESTORING, keyed_answer(RESTORING.answers[0], RESTORING)),
    ("2", READING, Typed("2")),
    (".", replace(READING, typed="24"), Typed("24.")),
    (",", replace(READING, typed="24"), Typed("24.")),
    ("6", replace(READING, typed="24."), Typed("24.6")),
    ("backspace", replace(READING, typed="24.6"), Typed("24.")),
    ("escape", replace(READING, typed="24.6"), Typed("")),
    ("enter", replace(READING, typed="24.6"), KeyedAnswer(9, Value("volts", Decimal("24.6")), "24.6 volts")),
    ("enter", replace(CONFIRMING, typed="24"), KeyedAnswer(9, Value("volts", Decimal(24)), "24 volts")),
    ("enter", NOTING, NoteClosed()),
    ("ctrl+q", ASKING, ABANDON),
    ("ctrl+c", ASKING, ABANDON),
    ("ctrl+q", CONFIRMING, ABANDON),
    ("ctrl+q", BRIEFING, ABANDON),
    ("ctrl+q", NOTING, NoteClosed()),
    ("ctrl+q", replace(NOTING, is_left=True), Left()),
    ("ctrl+q", replace(ASKING, is_left=True), Left()),
    ("ctrl+q", LEAVING, Left()),
    ("ctrl+c", LEAVING, Left()),
    ("ctrl+q", RESTORING, Left()),
    *((key, COMPLETE, Left()) for key in ("q", "Q", "enter", "escape", "ctrl+q", "ctrl+c")),
    *(
        (key, ASKING, KeyedAnswer(9, Command(word), word.value))
        for key, word in WORD_KEYS.items()
        if word is not Word.SQUAWK
    ),
    ("K", STOPPED, KeyedAnswer(9, Command(Word.SQUAWK), "squawk it")),
    ("s", STOPPED, keyed_answer(STOPPED.answers[1], STOPPED)),
    ("q", UNDER_FLOOR, ABANDON),
    ("ctrl+q", STOPPED, ABANDON),
    ("ctrl+q", replace(RESTORING, stop="19.0 volts"), ABANDON),
    ("ctrl+q", replace(RESTORING, stop="19.0 volts", is_abandoning=True), Left()),
]


@pytest.mark.parametrize(("key", "view", "intent"), TABLE)
def test_a_key_means_one_thing(key: str, view: View, intent: Intent | Typed | Helped) -> None:
    """Each row of the table."""
    assert key_to_intent(key, view) == intent


@pytest.mark.parametrize(
    ("key", "view", "reason"),
    [
        ("x", ASKING, '"x" answers nothing here'),
        (" ", RESTORING, "space does not answer a critical item; use the letter"),
        (" ", CONFIRMING, "space does not answer a critical item; use the letter"),
        (" ", LEAVING, "space does not answer this; use the letter"),
        (" ", STOPPED, "space does not answer a critical item; use the letter"),
        (" ", UNDER_FLOOR, "space does not answer a critical item; use the letter"),
        (" ", WAITING, "space answers nothing here"),
        (" ", READING, "type the number, then enter"),
        ("up", TYPING, "type the note; enter keeps it, escape drops it"),
        ("k", READING, '"k" answers nothing here'),
        ("5", ASKING, '"5" answers nothing here'),
        ("S", HOLDING, '"S" answers nothing here'),
        ("C", NOTING, '"C" answers nothing here'),
        ("-", READING, '"-" answers nothing here'),
        ("b", COMPLETE, "the run is over; q closes the screen"),
        ("enter", READING, "type the number, then enter"),
        ("enter", replace(READING, typed="2.4.6"), "type the number, then enter"),
        ("enter", replace(READING, typed="99"), "99 cannot be; 15.0 to 32.0 volts can be entered"),
        ("enter", replace(READING, typed="24.65"), "24.65 is finer than the gauge; it shows steps of 0.1"),
    ],
)
def test_a_key_that_answers_nothing_says_why(key: str, view: View, reason: str) -> None:
    """Stuck only from the limit on, words only where the state has them, numbers as the gauge shows them."""
    assert key_to_intent(key, view) == Refused(reason)


def test_a_minus_starts_a_number_only_where_there_are_any_below_zero() -> None:
    """An ammeter may show a discharge."""
    assert READING.gauge is not None
    ammeter = replace(READING, gauge=replace(READING.gauge, low=Decimal(-50)))
    assert key_to_intent("-", ammeter) == Typed("-")
    assert isinstance(key_to_intent("-", replace(ammeter, typed="5")), Refused)


def test_a_note_stops_at_240_characters() -> None:
    """A cat on the keyboard."""
    assert key_to_intent("x", replace(TYPING, typed="x" * 240)) == Typed("x" * 240)


def test_digits_stop_at_eight() -> None:
    """More is a slip of the hand."""
    assert key_to_intent("9", replace(READING, typed="12345678")) == Typed("12345678")


def test_every_word_that_may_be_said_has_a_key_but_roger() -> None:
    """Roger never answers an item (ICAO Annex 10 Vol II 5.2.1.5.8), so no key is spent on it."""
    assert set(Word) - set(WORD_KEYS.values()) == {Word.ROGER}


def test_word_keys_are_capitals_of_their_words_and_clash_with_no_answer() -> None:
    """Mnemonic: the key is a letter of its word, Q (quit) aside; answers have small letters."""
    for key, word in WORD_KEYS.items():
        assert key.isupper()
        assert key.lower() in word.value or word is Word.ABANDON
    for view in VIEWS.values():
        assert all(answer.key not in WORD_KEYS for answer in view.answers)


@pytest.mark.parametrize("name", VIEWS)
def test_there_is_always_a_way_out(name: str) -> None:
    """Pressing ctrl+q is never refused, whatever is on the screen."""
    assert not isinstance(key_to_intent("ctrl+q", VIEWS[name]), Refused)
