import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.language.catalogue import Word
from runner.language.digit import RADIO_PRONUNCIATIONS
from runner.language.likeness import TOO_ALIKE, Pronunciations, likeness, pronounced
from runner.voice.ear.dictionary import dictionary_words

phrase = st.lists(st.text("abcdeilorst", min_size=1, max_size=5), min_size=1, max_size=3).map(" ".join)


@pytest.fixture(scope="module")
def sounds() -> Pronunciations:
    """The CMU dictionary with the radiotelephony pronunciations."""
    return pronounced(dictionary_words(), RADIO_PRONUNCIATIONS)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("left out", "left on"),
        ("on", "off"),
        ("dead", "red"),
        ("bright", "right"),
        ("fifteen", "fifty"),
        ("both off", "put off"),
    ],
)
def test_easily_confused_phrases_are_too_alike(one: str, other: str, sounds: Pronunciations) -> None:
    """Pairs that any listener mixes up in noise (common practice, no source)."""
    assert TOO_ALIKE <= likeness(one, other, sounds) < 1


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("both", "left out"),
        ("left out", "right out"),
        ("left gyro flag pulled", "right gyro flag pulled"),
        ("flag pulled", "flag in view"),
        ("alive", "dead"),
        ("normal", "reserve"),
    ],
)
def test_phrases_that_differ_in_a_word_are_not_too_alike(
    one: str, other: str, sounds: Pronunciations
) -> None:
    """A shared beginning or end does not make two answers alike (common practice, no source)."""
    assert likeness(one, other, sounds) < TOO_ALIKE


def test_the_radio_digits_are_less_alike_than_the_plain_ones() -> None:
    """FIFE and NIN-er are said so that five and nine are not confused (ICAO's reason, from memory)."""
    plain = {"five": [["F", "AY", "V"]], "nine": [["N", "AY", "N"]]}
    radio = {"five": [["F", "AY", "F"]], "nine": [["N", "AY", "N", "ER"]]}
    assert likeness("five", "nine", radio) < likeness("five", "nine", plain)


def test_no_two_standard_words_are_too_alike(sounds: Pronunciations) -> None:
    """What is always in force can be told apart."""
    alike = [
        (one, other)
        for first in Word
        for second in Word
        if first is not second
        for one in first.phrases
        for other in second.phrases
        if likeness(one, other, sounds) >= TOO_ALIKE
    ]
    assert alike == []


def test_one_whole_phone_halves_it() -> None:
    """A full vowel more is one phone apart: one half."""
    words = {"a": [["S", "T"]], "b": [["S", "AY1", "T"]]}
    assert likeness("a", "b", words) == pytest.approx(0.5)


def test_homophones_are_the_same() -> None:
    """Different letters with the same phones are 1."""
    assert likeness("red", "read", {"red": [["R", "EH1", "D"]], "read": [["R", "EH1", "D"]]}) == 1


def test_the_most_alike_pronunciations_decide() -> None:
    """A word with two pronunciations is as confusable as the worse one."""
    words = {"read": [["R", "IY1", "D"], ["R", "EH1", "D"]], "red": [["R", "EH1", "D"]]}
    assert likeness("read", "red", words) == 1


@pytest.mark.parametrize("known", [{}, {"lit": [["L", "IH", "T"]]}, {"lit": [["L", "?"]], "lid": [["L"]]}])
def test_letters_stand_in_for_missing_phones(known: Pronunciations) -> None:
    """A word without a usable pronunciation is judged by its letters."""
    assert likeness("lit", "lid", known) == likeness("lit", "lid")
    assert likeness("lit", "lid") > likeness("lit", "dead")


@given(phrase, phrase)
def test_it_is_the_same_both_ways_and_never_above_one(one: str, other: str) -> None:
    """Symmetric, above 0, and 1 for the same text."""
    assert likeness(one, other) == pytest.approx(likeness(other, one))
    assert 0 < likeness(one, other) <= 1
    assert likeness(one, one) == 1


def test_written_pronunciations_come_before_the_dictionarys() -> None:
    """The author's word for it, and the radio pronunciations, stand beside what the dictionary says."""
    merged = pronounced({"nine": [["N", "AY1", "N"]]}, {"nine": ("N AY N ER",)}, {"merlow": ("M ER L OW",)})
    assert merged["nine"] == [["N", "AY", "N", "ER"], ["N", "AY1", "N"]]
    assert merged["merlow"] == [["M", "ER", "L", "OW"]]


@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        ("lit", "lat", 0.4),  # one vowel letter for another
        ("lyt", "lit", 0.4),
        ("lit", "lid", 0.6),  # one consonant letter for another
        ("lit", "lrt", 0.6),  # a vowel and a consonant
        ("lit", "lits", 0.6),  # one letter more
        ("lit", "it", 0.6),  # one less
        ("lit", "laid", 0.6 + 0.4 + 0.6 - 0.4),  # a letter more and d for t
        ("to", "day", 0.6 + 0.4 + 0.6),
    ],
)
def test_letters_cost_what_they_sound_like(one: str, other: str, apart: float) -> None:
    """Halved by each whole letter of difference; vowel letters differ least."""
    assert likeness(one, other) == pytest.approx(2**-apart)
    assert likeness(other, one) == pytest.approx(2**-apart)


def test_the_first_twelve_pronunciations_are_compared() -> None:
    """The thirteenth, though the same, is not."""
    odd = ["UW"] * 8
    many = [[*odd, *["S"] * count] for count in range(12)]
    said = {"a": [*many, ["T"]], "b": [["T"]], "c": [*many[:11], ["T"]]}
    assert likeness("c", "b", said) == 1
    assert likeness("a", "b", said) < 0.1
