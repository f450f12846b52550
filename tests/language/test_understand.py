from decimal import Decimal

import pytest

from runner.checklist.kind.item_phrases import phrases_of
from runner.language.catalogue import Word
from runner.language.force import understand
from runner.language.meaning import Command, Picked, Pulled, Value
from tests.language.sample import LAMPS, LEFT, VOLTS

# Status of a source: SEEN-2 quoted by another source, MEM from memory, derived by applying the rule.


@pytest.mark.parametrize(
    "text",
    [
        "two four decimal six",
        "Two four decimal six volts.",
        "twenty-four point six",
        "twenty four six",
        "two fower decimal six",
        "volts twenty four point six",
        "24.6",
        "24.6 volts",
    ],
)
def test_every_form_of_a_value_is_one_value(text: str) -> None:
    """Every way in which the ramp says it, and the figures themselves, are all 24.6."""
    assert understand(text, phrases_of(VOLTS)) == Value("volts", Decimal("24.6"))


@pytest.mark.parametrize(
    "text",
    [
        "left",
        "out",
        "left out please",
        "the left out",
        "left  is out",
        "lefts out",
        "",
        "uh left out",
        "left on",
    ],
)
def test_only_the_exact_phrase_is_understood(text: str) -> None:
    """More, less or other than the phrase is nothing."""
    assert understand(text, phrases_of(LAMPS)) is None


@pytest.mark.parametrize(
    "text", ["two four decimal", "six", "decimal six", "two four decimal six six", "3.4", "-24.6"]
)
def test_half_a_number_is_no_number(text: str) -> None:
    """Fragments and values outside the plausible band are not understood."""
    assert understand(text, phrases_of(VOLTS)) is None


def test_a_response_is_understood_in_any_writing() -> None:
    """Case and punctuation do not matter."""
    assert understand("Left out!", phrases_of(LAMPS)) == Picked("lamps", "left out")


def test_a_flag_is_understood_while_another_item_is_asked() -> None:
    """An open clock's phrase is in force at any item."""
    heard = understand("left gyro, flag pulled", phrases_of(LAMPS, pulled=(LEFT,)))
    assert heard == Pulled("left gyro")


@pytest.mark.parametrize("text", ["roger", "Roger.", "wilco"])
def test_roger_is_heard_and_answers_nothing(text: str) -> None:
    """Roger is a command of its own, never an item's answer (ICAO Annex 10 Vol II 5.2.1.5.8, SEEN-2)."""
    assert understand(text, phrases_of(VOLTS)) == Command(Word.ROGER)


@pytest.mark.parametrize("text", ["checked", "set", "ok", "yes", "no", "check"])
def test_empty_words_are_no_answers(text: str) -> None:
    """Words such as "checked" or "set" give no status (NASA CR-177549 App. A 4, SEEN-2)."""
    assert understand(text, phrases_of(LAMPS)) is None
