"""How alike two phrases sound, so that a check's author is warned of answers that are easily confused."""

from collections.abc import Mapping, Sequence
from itertools import islice, product
from typing import Final

from runner.language.phone import PHONES, phone_difference, phone_weight

Pronunciations = Mapping[str, Sequence[Sequence[str]]]
"""Words and their pronunciations in ARPAbet phones, stress marks allowed: as the CMU dictionary has them."""

TOO_ALIKE: Final = 0.38
"""Phrases from here on are worth a warning: under 1.4 phones apart, as "left out" and "left on" are."""

MOST_VARIANTS: Final = 12
"""Pronunciations of one phrase that are compared."""

_VOWEL_LETTERS: Final = frozenset("aeiouy")
_LETTER: Final = 0.6
_VOWEL_LETTER: Final = 0.4


def likeness(one: str, other: str, pronunciations: Pronunciations | None = None) -> float:
    """How alike two phrases (in normal form) sound: 1 the same, halved by each whole phone of difference.

    What differs counts, not what is shared: a long common beginning does not help an ear. Where a
    phrase has several pronunciations the most alike pair decides. Without a pronunciation for every
    word of both, letters stand in for phones.
    """
    first, second = _variants(one, pronunciations or {}), _variants(other, pronunciations or {})
    if first and second:
        return max(_halved(_phones_apart(a, b)) for a, b in product(first, second))
    return _halved(_letters_apart(one.replace(" ", ""), other.replace(" ", "")))


def pronounced(dictionary: Pronunciations, *written: Mapping[str, Sequence[str]]) -> Pronunciations:
    """A dictionary with further pronunciations in front, each written as one text: "N AY N ER"."""
    merged = dict(dictionary)
    for words in written:
        for word, sounds in words.items():
            merged[word] = [*(sound.split() for sound in sounds), *merged.get(word, ())]
    return merged


def _variants(phrase: str, pronunciations: Pronunciations) -> tuple[tuple[str, ...], ...]:
    """The phrase's pronunciations as phones; none when a word has none or one with an unknown phone."""
    words = [pronunciations.get(word, ()) for word in phrase.split()]
    spoken = islice(product(*words), MOST_VARIANTS)
    variants = {tuple(phone.rstrip("012") for word in sounds for phone in word) for sounds in spoken}
    return tuple(phones for phones in sorted(variants) if phones and all(phone in PHONES for phone in phones))


def _halved(apart: float) -> float:
    return float(2**-apart)


def _phones_apart(one: Sequence[str], other: Sequence[str]) -> float:
    change = [[phone_difference(a, b) for b in other] for a in one]
    return _edit_distance([phone_weight(a) for a in one], [phone_weight(b) for b in other], change)


def _letters_apart(one: str, other: str) -> float:
    change = [[_letter_difference(a, b) for b in other] for a in one]
    return _edit_distance([_LETTER] * len(one), [_LETTER] * len(other), change)


def _letter_difference(one: str, other: str) -> float:
    if one == other:
        return 0.0
    return _VOWEL_LETTER if {one, other} <= _VOWEL_LETTERS else _LETTER


def _edit_distance(drops: Sequence[float], adds: Sequence[float], change: Sequence[Sequence[float]]) -> float:
    """The cheapest way from one sequence to the other by dropping, adding and changing."""
    row = [0.0]
    for add in adds:
        row.append(row[-1] + add)
    for drop, changes in zip(drops, change, strict=True):
        last, row = row, [row[0] + drop]
        for index, add in enumerate(adds):
            row.append(min(last[index + 1] + drop, row[index] + add, last[index] + changes[index]))
    return row[-1]
