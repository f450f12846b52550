"""What a typed line means."""

from dataclasses import replace
from decimal import Decimal

import pytest

from runner.language.catalogue import Word
from runner.language.meaning import Command, Corrected, Meaning, Picked, Value
from runner.screen.keys import (
    Helped,
    Intent,
    KeyedAnswer,
    Left,
    NoteClosed,
    NoteWritten,
    Refused,
    keyed_answer,
)
from runner.screen.plain.typed_line import line_to_intent
from runner.screen.view import View
from tests.screen.sample import ASKING, COMPLETE, LAMPS, NOTING, READING, RESTORING, RIGHT, TYPING


@pytest.mark.parametrize(
    ("line", "view", "intent"),
    [
        ("b\n", ASKING, keyed_answer(LAMPS[0], ASKING)),
        ("Left  out\n", ASKING, keyed_answer(LAMPS[1], ASKING)),
        ("right gyro, flag pulled", READING, keyed_answer(RIGHT.answers[0], READING)),
        ("y", READING, keyed_answer(RIGHT.answers[0], READING)),
        ("24.6", READING, KeyedAnswer(9, Value("volts", Decimal("24.6")), "24.6 volts")),
        ("24,6", READING, KeyedAnswer(9, Value("volts", Decimal("24.6")), "24.6 volts")),
        ("S", ASKING, KeyedAnswer(9, Command(Word.STANDBY), "standby")),
        ("say again", ASKING, KeyedAnswer(9, Command(Word.SAY_AGAIN), "say again")),
        ("roger", ASKING, KeyedAnswer(9, Command(Word.ROGER), "roger")),
        ("", NOTING, NoteClosed()),
        (" \n", ASKING, keyed_answer(LAMPS[0], ASKING)),
        ("?\n", ASKING, Helped()),
        ("left lamp  flickers\n", TYPING, NoteWritten("left lamp flickers")),
        ("s\n", TYPING, NoteWritten("s")),
        ("\n", TYPING, NoteClosed()),
        ("", COMPLETE, Left()),
    ],
)
def test_a_line_is_a_key_a_number_or_words(line: str, view: View, intent: Intent | Helped) -> None:
    """Case and spaces do not matter in words."""
    assert line_to_intent(line, view) == intent


@pytest.mark.parametrize(
    ("line", "view", "reason"),
    [
        ("", ASKING, "type a key, a number or words"),
        ("bb", ASKING, '"bb" answers nothing here'),
        (" \n", RESTORING, "space does not answer a critical item; use the letter"),
        (",", READING, "type the whole number"),
        ("perhaps", ASKING, '"perhaps" answers nothing here'),
        ("24.6", ASKING, '"24.6" answers nothing here'),
        ("99", READING, "99 cannot be; 15.0 to 32.0 volts can be entered"),
        ("continue", replace(ASKING, words=()), '"continue" answers nothing here'),
    ],
)
def test_a_line_that_answers_nothing_says_why(line: str, view: View, reason: str) -> None:
    """Nothing is guessed."""
    assert line_to_intent(line, view) == Refused(reason)


@pytest.mark.parametrize(
    ("line", "meaning", "text"),
    [
        ("correction 24.1", Corrected(Value("volts", Decimal("24.1"))), "correction, 24.1 volts"),
        ("Correction, 24,1", Corrected(Value("volts", Decimal("24.1"))), "correction, 24.1 volts"),
        ("correction,24.1", Corrected(Value("volts", Decimal("24.1"))), "correction, 24.1 volts"),
        ("correction both lit", Corrected(Picked("lamps", "both lit")), "correction, both lit"),
        ("correction", Command(Word.CORRECTION), "correction"),
    ],
)
def test_a_correction_and_its_answer_stand_in_one_line(line: str, meaning: Meaning, text: str) -> None:
    """As they are said in one breath."""
    answers = tuple(replace(each, meaning=Corrected(each.meaning)) for each in LAMPS)  # type: ignore[arg-type] # they are named answers
    view = replace(ASKING, corrections=answers, corrected_gauge=READING.gauge)
    assert line_to_intent(line, view) == KeyedAnswer(9, meaning, text)


@pytest.mark.parametrize("line", ["24.1", "both lit", "say again"])
def test_where_nothing_can_be_corrected_at_once_the_line_says_so(line: str) -> None:
    """The answers of the item at hand are not taken for it."""
    refused = line_to_intent(f"correction {line}", replace(READING, answers=ASKING.answers))
    assert refused == Refused(f'"{line}" corrects nothing here')


def test_a_single_digit_is_a_whole_number() -> None:
    """On a line it is not the first digit of one."""
    assert READING.gauge is not None
    low = replace(READING, gauge=replace(READING.gauge, low=Decimal(0)))
    assert line_to_intent("5", low) == KeyedAnswer(9, Value("volts", Decimal(5)), "5 volts")
