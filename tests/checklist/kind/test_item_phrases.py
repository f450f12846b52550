from dataclasses import replace
from decimal import Decimal

import pytest

from runner.checklist.format.check import Item
from runner.checklist.kind.item_phrases import answer_meanings, endings, phrases_of
from runner.language.catalogue import Word
from runner.language.force import describe
from runner.language.meaning import Command, Corrected, Meaning, Picked, Pulled, Stuck, Value
from tests.language.sample import FIT, LAMPS, LEFT, RIGHT, VOLTS, action, gyro, reading, response

# Status of a source: SEEN-2 quoted by another source, MEM from memory, derived by applying the rule.


def test_an_items_answers_are_in_force() -> None:
    """Named responses mean their label."""
    meanings = phrases_of(LAMPS).meanings
    assert meanings["left out"] == Picked("lamps", "left out")
    assert meanings["both"] == Picked("lamps", "both")


def test_a_readings_values_are_in_force() -> None:
    """All phrases of the plausible band mean their value."""
    meanings = phrases_of(VOLTS, words=()).meanings
    expected = reading("20", "34").phrases()
    assert meanings == {phrase: Value("volts", number) for phrase, number in expected.items()}


def test_standard_words_are_in_force_without_an_item() -> None:
    """With no item asked, what may be said is the standard words."""
    assert set(phrases_of().meanings.values()) == {Command(word) for word in Word}


def test_a_subset_of_words_may_be_passed() -> None:
    """A state takes only its own words."""
    assert phrases_of(words=(Word.CONTINUE,)).phrases == (
        "continue",
        "continue checklist",
        "resume checklist",
    )


def test_open_clocks_are_in_force_at_any_item() -> None:
    """Both gyros' phrases are heard while the lamps are asked; stuck only for the one past its limit."""
    meanings = phrases_of(LAMPS, pulled=(LEFT, RIGHT), stuck=(RIGHT,)).meanings
    assert meanings["left gyro flag pulled"] == Pulled("left gyro")
    assert meanings["right gyro flag pulled"] == Pulled("right gyro")
    assert meanings["right gyro stuck"] == Stuck("right gyro")
    assert "left gyro stuck" not in meanings
    assert meanings["left out"] == Picked("lamps", "left out")


def test_a_spin_up_has_no_answers_beside_its_clock() -> None:
    """Before its clock runs, a gyro's phrase cannot be said."""
    assert answer_meanings(LEFT) == {}
    assert phrases_of(LEFT, words=()).phrases == ()


@pytest.mark.parametrize("taken", ["left out", "standby"])
def test_a_spin_ups_phrase_beats_everything(taken: str) -> None:
    """A flag that pulls now is worth more than any other meaning of the phrase."""
    clock = gyro("gyro", taken, "stuck")
    assert phrases_of(LAMPS, pulled=(clock,)).meanings[taken] == Pulled("gyro")


def test_yes_and_no_may_be_an_items_own() -> None:
    """A choice answered affirm or negative takes these words, "affirmative" with them."""
    meanings = phrases_of(FIT).meanings
    assert meanings["affirm"] == meanings["affirmative"] == Picked("fit", "affirm")
    assert meanings["negative"] == Picked("fit", "negative")
    assert meanings["correction"] == Command(Word.CORRECTION)


@pytest.mark.parametrize(
    "phrase",
    [
        "standby",
        "continue",
        "correction",
        "disregard",
        "confirm",
        "unable",
        "read back",
        "roger",
        "wilco",
        "why",
    ],
)
def test_no_other_standard_word_may_be_an_answer(phrase: str) -> None:
    """An item answered with such a word is refused, and the message names both meanings."""
    item = action("radio", response("set", phrase))
    with pytest.raises(
        ValueError, match=f'"{phrase}" would mean "set" of item "radio" and the standard word'
    ):
        phrases_of(item)


def test_a_word_that_is_not_passed_clashes_with_nothing() -> None:
    """Only what is in force together can clash."""
    item = action("radio", response("set", "standby"))
    assert phrases_of(item, words=(Word.ROGER,)).meanings["standby"] == Picked("radio", "set")


def test_a_clocks_phrase_settles_what_would_clash_without_it() -> None:
    """An answer and a standard word that both lose to a spin-up do not raise."""
    item, clock = action("radio", response("set", "standby")), gyro("gyro", "standby", "stuck")
    assert phrases_of(item, pulled=(clock,)).meanings["standby"] == Pulled("gyro")


def test_two_answers_with_one_phrase_are_refused() -> None:
    """A phrase for two labels of one item raises."""
    item = action("radio", response("on", "lit"), response("off", "Lit!"))
    with pytest.raises(ValueError, match='"lit" would mean "on" of item "radio" and "off" of item "radio"'):
        phrases_of(item)


def test_two_gyros_with_one_phrase_are_refused() -> None:
    """A phrase that ends two clocks raises."""
    one, other = gyro("one", "flag pulled", "one stuck"), gyro("other", "flag pulled", "other stuck")
    with pytest.raises(ValueError, match='flag pulled of item "one" and flag pulled of item "other"'):
        phrases_of(pulled=(one, other))


def test_a_phrase_without_words_is_refused() -> None:
    """Punctuation alone cannot be said."""
    with pytest.raises(ValueError, match=r'item "radio": the phrase "\.\.\." has no words'):
        phrases_of(action("radio", response("on", "...")))


def test_only_a_spin_up_has_a_clock() -> None:
    """Asking another item for its clock is the caller's mistake."""
    with pytest.raises(TypeError, match='item "lamps" is no spin-up'):
        endings(LAMPS, is_stuck=False)


def test_the_authors_spelling_is_brought_to_the_normal_form() -> None:
    """Phrases come out as the recogniser will give them back."""
    item = action("radio", response("on", "Number-one radio, LIT"))
    assert phrases_of(item, words=()).phrases == ("number one radio lit",)


@pytest.mark.parametrize(
    ("meaning", "words"),
    [
        (Command(Word.SAY_AGAIN), 'the standard word "say again"'),
        (Picked("lamps", "both"), '"both" of item "lamps"'),
        (Value("volts", Decimal("24.6")), '24.6 of item "volts"'),
        (Pulled("gyro"), 'flag pulled of item "gyro"'),
        (Stuck("gyro"), 'flag stuck of item "gyro"'),
        (Corrected(Picked("lamps", "both")), 'a correction to "both" of item "lamps"'),
    ],
)
def test_each_meaning_has_words(meaning: Meaning, words: str) -> None:
    """Messages can name what a phrase means."""
    assert describe(meaning) == words


@pytest.mark.parametrize("item", [None, LAMPS, VOLTS, FIT])
def test_roger_satisfies_nothing(item: Item | None) -> None:
    """Roger is never an answer, whatever is asked (ICAO Annex 10 Vol II 5.2.1.5.8, SEEN-2)."""
    assert phrases_of(item, pulled=(LEFT,), stuck=(LEFT,)).meanings["roger"] == Command(Word.ROGER)


def test_a_renamed_reading_means_its_own_item() -> None:
    """Two readings over one band share their phrases but not their meaning."""
    other = replace(VOLTS, name="bus volts")
    assert phrases_of(other).meanings["two four decimal six"] == Value("bus volts", Decimal("24.6"))
    assert phrases_of(VOLTS).meanings["two four decimal six"] == Value("volts", Decimal("24.6"))
