"""Pronunciations."""

from pathlib import Path

import pytest

from runner.voice.ear.dictionary import dictionary_words
from runner.voice.ear.lexicon import Lexicon
from runner.voice.ear.network_phone import phone_numbers


@pytest.mark.parametrize("word", ["flag", "volts", "left", "unable", "battery", "a"])
def test_dictionary_words_have_all_their_dictionary_forms(word: str) -> None:
    """Each line of the dictionary is a form of its word."""
    listed = {phone_numbers(" ".join(phones)) for phones in dictionary_words()[word]}
    assert listed <= set(Lexicon().pronunciations(word))


@pytest.mark.parametrize(
    ("digit", "spoken"),
    [
        ("three", "T R IY"),
        ("four", "F OW ER"),
        ("five", "F AY F"),
        ("nine", "N AY N ER"),
        ("thousand", "T AW Z AH N D"),
    ],
)
def test_radiotelephony_forms_are_known(digit: str, spoken: str) -> None:
    """TREE, FOW-er, FIFE, NIN-er, TOU-SAND: ICAO Annex 10 Vol II 5.2.1.4.3."""
    assert phone_numbers(spoken) in Lexicon().pronunciations(digit)


def test_niner_is_the_same_spoken_word_as_nine() -> None:
    """So that two spellings of one word do not compete with each other."""
    assert Lexicon().pronunciations("niner") == Lexicon().pronunciations("nine")


def test_a_compound_is_put_together_from_known_words() -> None:
    """`eyesout` is eyes and out."""
    assert Lexicon().pronunciations("eyesout") == (phone_numbers("AY Z AW T"),)


def test_the_check_file_may_say_how_a_word_is_pronounced() -> None:
    """Its spellings replace all others."""
    lexicon = Lexicon({"Qnh": ("K Y UW N",)})
    assert lexicon.pronunciations("qnh") == (phone_numbers("K Y UW N"),)


def test_figures_have_no_pronunciation() -> None:
    """They must be written as words."""
    assert Lexicon().pronunciations("24.6") == ()


def test_a_lone_letter_is_its_name() -> None:
    """Also where an apostrophe keeps the dictionary from knowing it."""
    assert Lexicon().pronunciations("q'") == (phone_numbers("K Y UW"),)


def test_words_sound_as_they_always_did() -> None:
    """598 words of checks and answers, as pronounced with release 1.1.3 of the dictionary's wheel."""
    lines = (Path(__file__).parents[1] / "pronunciations.txt").read_text(encoding="utf-8").splitlines()
    golden = dict(line.split("\t") for line in lines)
    spoken = {
        word: ", ".join(" ".join(map(str, phones)) for phones in Lexicon().pronunciations(word))
        for word in golden
    }
    assert spoken == golden
