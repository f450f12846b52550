import pytest

from runner.language.phone import PHONES, phone_difference, phone_weight


def test_all_phones_of_the_dictionary_are_there() -> None:
    """The 39 phones of the CMU dictionary (its own documentation; from memory)."""
    vowels = {"AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW"}
    consonants = set("B CH D DH F G HH JH K L M N NG P R S SH T TH V W Y Z ZH".split())  # noqa: SIM905 - reads as in the dictionary
    assert PHONES.keys() == vowels | consonants


def test_the_difference_is_a_distance() -> None:
    """Nothing from a phone to itself, something up to 1 between any two, the same both ways."""
    for one in PHONES:
        assert phone_difference(one, one) == 0
        for other in PHONES.keys() - {one}:
            assert 0 < phone_difference(one, other) <= 1
            assert phone_difference(one, other) == phone_difference(other, one)


@pytest.mark.parametrize(
    ("near", "far"),
    [
        (("M", "N"), ("M", "B")),  # place is lost in noise before nasality
        (("P", "K"), ("P", "B")),  # place is lost before voice
        (("T", "K"), ("T", "D")),
        (("F", "TH"), ("F", "V")),
        (("F", "TH"), ("F", "S")),
        (("D", "G"), ("D", "N")),
    ],
)
def test_consonants_that_noise_confuses_are_nearer(near: tuple[str, str], far: tuple[str, str]) -> None:
    """The order of Miller and Nicely, J. Acoust. Soc. Am. 27 (1955) 338-352, from memory."""
    assert phone_difference(*near) < phone_difference(*far)


def test_a_vowel_is_no_consonant() -> None:
    """They have nothing in common, but for a glide and its vowel."""
    assert phone_difference("AA", "T") == 1
    assert phone_difference("W", "UW") < 1


def test_missing_breath_costs_less_than_missing_a_vowel() -> None:
    """A lost H is hardly heard; a lost full vowel is a lost syllable."""
    assert phone_weight("HH") < phone_weight("S") < phone_weight("AY") == 1


def test_what_is_no_phone_is_refused() -> None:
    """A stress mark or a typing error is the caller's mistake."""
    with pytest.raises(KeyError, match="AY1"):
        phone_difference("AY1", "AY")
