"""Phones and their numbers."""

import pytest

from runner.voice.ear.network_phone import OUTPUTS, PHONES, phone_numbers


def test_there_are_the_39_phones_of_cmudict() -> None:
    """The CMU dictionary's phone set has 39 phones (its own documentation, `cmudict.phones`)."""
    assert len(PHONES) == 39
    assert OUTPUTS == 40


def test_spelling_goes_to_numbers_without_stress() -> None:
    """Stress marks are dropped; nothing else is."""
    assert [PHONES[number - 1] for number in phone_numbers("T UW1")] == ["T", "UW"]


def test_an_unknown_phone_is_named() -> None:
    """The message says which one and what there is."""
    with pytest.raises(ValueError, match="'QQ' is not a phone"):
        phone_numbers("T QQ")
