from runner.checklist.format.pronounce import CONSONANTS, VOWELS
from runner.voice.ear.dictionary import dictionary_words


def test_the_phones_are_those_of_the_dictionary() -> None:
    """Every phone of its 135,000 lines, and no other; its vowels alone carry a stress mark."""
    marked = {phone for sounds in dictionary_words().values() for phones in sounds for phone in phones}
    assert {phone.rstrip("012") for phone in marked} == VOWELS | CONSONANTS
    assert {phone[:-1] for phone in marked if phone[-1] in "012"} == VOWELS
