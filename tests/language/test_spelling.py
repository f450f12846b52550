import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.language.spelling import normalise

WORDS = st.lists(
    st.sampled_from(
        [
            "oh",
            "o",
            "and",
            "zero",
            "two",
            "twenty",
            "hundred",
            "thousand",
            "decimal",
            "point",
            "minus",
            "stand",
            "by",
            "standby",
            "per",
            "cent",
            "tree",
            "niner",
            "read",
            "back",
            "readback",
            "left",
            "out",
            "24.6",
            "-5",
            "030",
            "%",
            "don't",
        ]
    ),
    max_size=8,
).map(" ".join)


@pytest.mark.parametrize(
    ("text", "normal"),
    [
        ("Left OUT.", "left out"),
        ("  left -- out!  ", "left out"),
        ("right gyro, flag pulled", "right gyro flag pulled"),
        ("Twenty-Four point six", "twenty four point six"),
        ("niner fife fower tree", "nine five four three"),
        ("one hundred and twenty", "one hundred twenty"),
        ("one thousand, two hundred and five", "one thousand two hundred five"),
        ("pitot and static", "pitot and static"),
        ("two and four", "two and four"),
        ("stand by", "standby"),
        ("stand-by", "standby"),
        ("readback", "read back"),
        ("eighty per cent", "eighty percent"),
        ("twelve amperes", "twelve amps"),
        ("it's", "it's"),
        ("it\N{RIGHT SINGLE QUOTATION MARK}s", "it's"),
        ("", ""),
        ("?!", ""),
    ],
)
def test_writing_is_brought_to_one_form(text: str, normal: str) -> None:
    """Case, punctuation, hyphens and spellings leave one form."""
    assert normalise(text) == normal


@pytest.mark.parametrize(
    ("text", "normal"),
    [
        ("24.6", "two four decimal six"),
        ("24.6 volts.", "two four decimal six volts"),
        ("-5", "minus five"),
        ("\N{MINUS SIGN}5", "minus five"),
        ("030", "zero three zero"),
        ("24-26", "two four two six"),
        ("80%", "eight zero percent"),
        ("28v", "two eight v"),
    ],
)
def test_figures_become_words(text: str, normal: str) -> None:
    """Digits are spelled one by one, with the sign only where it is no hyphen."""
    assert normalise(text) == normal


@pytest.mark.parametrize(
    ("text", "normal"),
    [
        ("two oh six", "two zero six"),
        ("two oh oh six", "two zero zero six"),
        ("two four point oh", "two four point zero"),
        ("oh two", "oh two"),
        ("bus one oh", "bus one oh"),
        ("oh no", "oh no"),
    ],
)
def test_oh_is_zero_only_inside_a_number(text: str, normal: str) -> None:
    """Between number words or after the point "oh" is zero; a label such as "o two" keeps its letter."""
    assert normalise(text) == normal


@pytest.mark.parametrize("word", ["affirm", "affirmative", "decimal", "point", "roger", "say again"])
def test_words_that_sound_different_stay_different(word: str) -> None:
    """Only spellings are folded: what sounds different must stay a phrase of its own for the ear."""
    assert normalise(word) == word


@given(st.one_of(st.text(max_size=40), WORDS))
def test_doing_it_twice_changes_nothing(text: str) -> None:
    """The normal form of a normal form is itself, whatever the text."""
    once = normalise(text)
    assert normalise(once) == once


@given(st.text(max_size=40))
def test_the_form_has_single_spaces_and_no_digits(text: str) -> None:
    """Words with one space between, none of them with an ASCII digit or an upper case letter."""
    normal = normalise(text)
    assert normal == " ".join(normal.split())
    assert not [letter for letter in normal if letter in "0123456789" or "A" <= letter <= "Z"]
