from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.checklist.format.check import Item
from runner.checklist.kind.item_phrases import answer_meanings, endings, phrases_of
from runner.checklist.lint.clash import Clash, clashes
from runner.language.catalogue import Word
from runner.language.likeness import TOO_ALIKE
from runner.language.meaning import Command, Picked, Pulled, Stuck
from tests.language.sample import (
    DONE,
    FIT,
    LAMPS,
    RESERVE,
    SAMPLE,
    VOLTS,
    action,
    check,
    gyro,
    reading,
    response,
)


def test_a_sound_check_has_no_clashes() -> None:
    """The sample check can be run: each phrase has one meaning at a time."""
    assert clashes(SAMPLE) == ()


def test_the_same_phrase_in_two_items_is_no_clash() -> None:
    """Only one item is asked at a time."""
    assert clashes(check(action("one", response("lit")), action("other", response("lit")))) == ()


def test_one_phrase_for_two_answers_is_found() -> None:
    """Two labels of one item with one phrase."""
    item = action("radio", response("on", "lit"), response("off", "LIT"))
    clash = Clash("radio", "lit", Picked("radio", "off"), "lit", Picked("radio", "on"), 1.0)
    assert clashes(check(item)) == (clash,)
    assert clash.is_same
    assert clash.message == (
        '"lit" would mean "off" of item "radio" and "on" of item "radio" at the same time; reword one of them'
    )


def test_one_phrase_for_two_gyros_is_found() -> None:
    """Two clocks may run at once, so their phrases must differ."""
    found = clashes(
        check(gyro("one", "flag pulled", "one stuck"), gyro("other", "flag pulled", "other stuck"))
    )
    assert [(clash.item, clash.meaning, clash.other) for clash in found] == [
        ("other", Pulled("other"), Pulled("one"))
    ]


def test_one_phrase_for_pulled_and_stuck_is_found() -> None:
    """A gyro's own two phrases must differ too."""
    found = clashes(check(gyro("one", "gyro flag", "gyro, flag")))
    assert [(clash.meaning, clash.other) for clash in found] == [(Stuck("one"), Pulled("one"))]


@pytest.mark.parametrize("before", [True, False])
def test_a_gyros_phrase_may_be_no_items_answer(before: bool) -> None:  # noqa: FBT001 - a parameter of the test
    """A clock may be open at any item, even an earlier one that was put off."""
    item, clock = action("heading", response("flag pulled")), gyro("gyro", "flag pulled", "stuck")
    found = clashes(check(item, clock) if before else check(clock, item))
    assert [(clash.item, clash.other) for clash in found] == [("heading", Pulled("gyro"))]


def test_a_gyros_phrase_may_be_no_value() -> None:
    """Number phrases of a reading count as answers."""
    found = clashes(check(VOLTS, gyro("gyro", "twenty four", "stuck")))
    assert [(clash.item, clash.phrase) for clash in found] == [("volts", "twenty four")]


@pytest.mark.parametrize("word", [word for word in Word if word not in (Word.AFFIRM, Word.NEGATIVE)])
def test_a_standard_word_may_be_no_answer(word: Word) -> None:
    """Each word that does not yield is found in an item and in a spin-up."""
    in_item = clashes(check(action("radio", response("on", word.value))))
    in_clock = clashes(check(gyro("gyro", word.value, "stuck")))
    assert [clash.other for clash in (*in_item, *in_clock)] == [Command(word)] * 2


def test_yes_and_no_may_be_answers_but_end_no_clock() -> None:
    """A choice may be answered affirm or negative; a gyro may not."""
    assert clashes(check(FIT)) == ()
    assert [clash.other for clash in clashes(check(gyro("gyro", "affirm", "stuck")))] == [
        Command(Word.AFFIRM)
    ]


def test_affirmative_belongs_to_whoever_has_affirm() -> None:
    """An item may not have "affirm" for one answer and "affirmative" for another."""
    item = action("radio", response("on", "affirm"), response("off", "affirmative"))
    assert {clash.phrase for clash in clashes(check(item))} == {"affirm", "affirmative"}


NARROW = replace(VOLTS, body=reading("24.5", "24.7"))
DISTINCT = ("lit", "Out", "flag up", "Flag, down", "24.4", "needle moves")
"""No two have one normal form, none is a standard word, and NARROW has no such value."""


@st.composite
def sound_items(draw: st.DrawFn) -> tuple[Item, list[Item]]:
    """An item and up to two gyros, worded so that each phrase has one meaning."""
    said = draw(st.permutations(DISTINCT))
    on = draw(st.sampled_from((said[0], "affirm", "Affirmative")))
    off = draw(st.sampled_from((said[1], "negative")))
    lamp = action("lamp", response("on", on), response("off", off))
    clocks = [gyro("one", *said[2:4]), gyro("other", *said[4:6])]
    return draw(st.sampled_from((lamp, NARROW, FIT))), clocks[: draw(st.integers(0, 2))]


@given(sound_items())
def test_what_has_no_clash_can_be_in_force(asked: tuple[Item, list[Item]]) -> None:
    """A check without clashes never raises when its phrases are built, and none of them is lost."""
    item, clocks = asked
    assert clashes(check(item, *clocks)) == ()
    built = phrases_of(item, pulled=tuple(clocks), stuck=tuple(clocks)).meanings
    own = answer_meanings(item).items()
    ends = [endings(clock, is_stuck=stuck).items() for clock in clocks for stuck in (False, True)]
    assert set(own).union(*ends) <= set(built.items())


def test_sound_is_judged_only_on_demand() -> None:
    """Without pronunciations (or an empty mapping, for letters) only equal phrases are found."""
    item = action("lamp", response("left out"), response("left on"))
    assert clashes(check(item)) == ()
    (clash,) = clashes(check(item), {})
    assert (clash.phrase, clash.other_phrase) == ("left on", "left out")
    assert TOO_ALIKE <= clash.likeness < 1
    assert not clash.is_same
    assert clash.message == (
        '"left on" sounds much like "left out", "left out" of item "lamp" (44% alike); '
        "use words that differ more"
    )


def test_two_phrases_of_one_answer_may_sound_alike() -> None:
    """What means the same cannot be confused."""
    assert clashes(check(action("lamp", response("on", "lamp lit", "lamps lit"))), {}) == ()


def test_the_right_phones_tell_what_letters_cannot() -> None:
    """Phones find "why" and "right", which share no letter pattern."""
    phones = {"why": [["W", "AY1"]], "right": [["R", "AY1", "T"]]}
    item = action("side", response("right"))
    assert [clash.other for clash in clashes(check(item), phones)] == [Command(Word.WHY)]


def test_a_phrase_without_words_is_refused() -> None:
    """As when it is put in force."""
    with pytest.raises(ValueError, match='item "radio": the phrase "-" has no words'):
        clashes(check(RESERVE, LAMPS, action("radio", response("on", "-")), DONE))
