"""Pronunciations for words that no dictionary has, in ARPAbet (the phone set of the CMU dictionary)."""

from collections.abc import Mapping

from runner.checklist.format.phrase import read_phrase
from runner.document import Node

VOWELS = frozenset(("AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW"))
CONSONANTS = frozenset(
    (
        *("B", "CH", "D", "DH", "F", "G", "HH", "JH", "K", "L", "M", "N"),
        *("NG", "P", "R", "S", "SH", "T", "TH", "V", "W", "Y", "Z", "ZH"),
    )
)
"""With the vowels the 39 phones of the CMU dictionary; a vowel may carry a stress digit 0, 1 or 2."""


def read_pronunciations(node: Node) -> Mapping[str, tuple[str, ...]]:
    """Each word's pronunciations, phones with single spaces between."""
    words: dict[str, tuple[str, ...]] = {}
    for word, entry in node.entries().items():
        at = Node(word, entry.key_place or entry.place, node.context)
        spoken = read_phrase(at)
        if " " in spoken:
            at.fail(f'"{word}" is more than one word; write each word on a line of its own')
        words[spoken] = tuple(_phones(choice.within(f'word "{word}"')) for choice in entry.each())
    return words


def _phones(node: Node) -> str:
    phones = node.text().split()
    for phone in phones:
        if phone not in CONSONANTS and (phone[:-1] if phone[-1] in "012" else phone) not in VOWELS:
            node.fail(f'"{phone}" is no ARPAbet phone; write phones with spaces between, such as "M ER L OW"')
    return " ".join(phones)
