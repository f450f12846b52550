"""Pronouncing by spelling."""

import pytest

from runner.voice.ear.letter import sound_out


@pytest.mark.parametrize(
    ("word", "phones"),
    [
        ("gate", "G EY T"),
        ("ship", "SH IH P"),
        ("knack", "N AE K"),
        ("station", "S T AE SH AH N"),
        ("quit", "K W IH T"),
    ],
)
def test_common_spellings_are_sounded(word: str, phones: str) -> None:
    """Words that follow the rules come out near their dictionary form (CMUdict, vowels apart)."""
    assert sound_out(word) == phones


def test_letters_without_a_vowel_are_spelt() -> None:
    """An abbreviation is said letter by letter."""
    assert sound_out("dg") == "D IY JH IY"


def test_every_word_of_letters_has_a_sound() -> None:
    """No combination of letters falls through."""
    assert all(sound_out(a + b) for a in "abcdefghijklmnopqrstuvwxyz" for b in "abcdefghijklmnopqrstuvwxyz")
