"""Phones and how far apart two of them sound: the 39 of ARPAbet, by how and where they are made.

The features are textbook phonetics; the weights are this project's own. Voice and nasality weigh
most and place least, in the order in which Miller and Nicely (J. Acoust. Soc. Am. 27, 1955) found
them to survive noise (from memory).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Final


@dataclass(frozen=True, slots=True)
class Consonant:
    """How a consonant is made."""

    place: int
    """0 at the lips to 6 in the throat."""
    is_voiced: bool = False
    is_nasal: bool = False
    flows: bool = False
    """Air goes on through the mouth."""
    is_sonorant: bool = False
    hisses: bool = False


@dataclass(frozen=True, slots=True)
class Vowel:
    """Where a vowel begins and, for a diphthong, ends."""

    height: float
    """0 open to 1 close."""
    back: float
    """0 front to 1 back."""
    end_height: float
    end_back: float


def _steady(height: float, back: float) -> Vowel:
    return Vowel(height, back, height, back)


_CONSONANTS: Final = {
    "P": Consonant(0),
    "B": Consonant(0, is_voiced=True),
    "M": Consonant(0, is_voiced=True, is_nasal=True, is_sonorant=True),
    "W": Consonant(0, is_voiced=True, flows=True, is_sonorant=True),
    "F": Consonant(1, flows=True),
    "V": Consonant(1, is_voiced=True, flows=True),
    "TH": Consonant(2, flows=True),
    "DH": Consonant(2, is_voiced=True, flows=True),
    "T": Consonant(3),
    "D": Consonant(3, is_voiced=True),
    "N": Consonant(3, is_voiced=True, is_nasal=True, is_sonorant=True),
    "L": Consonant(3, is_voiced=True, flows=True, is_sonorant=True),
    "S": Consonant(3, flows=True, hisses=True),
    "Z": Consonant(3, is_voiced=True, flows=True, hisses=True),
    "CH": Consonant(4, hisses=True),
    "JH": Consonant(4, is_voiced=True, hisses=True),
    "SH": Consonant(4, flows=True, hisses=True),
    "ZH": Consonant(4, is_voiced=True, flows=True, hisses=True),
    "R": Consonant(4, is_voiced=True, flows=True, is_sonorant=True),
    "Y": Consonant(4, is_voiced=True, flows=True, is_sonorant=True),
    "K": Consonant(5),
    "G": Consonant(5, is_voiced=True),
    "NG": Consonant(5, is_voiced=True, is_nasal=True, is_sonorant=True),
    "HH": Consonant(6, flows=True),
}

_VOWELS: Final = {
    "IY": _steady(1.0, 0.0),
    "IH": _steady(0.8, 0.1),
    "EH": _steady(0.45, 0.1),
    "AE": _steady(0.15, 0.1),
    "AH": _steady(0.4, 0.5),
    "ER": _steady(0.5, 0.5),
    "AA": _steady(0.0, 0.8),
    "AO": _steady(0.25, 1.0),
    "UH": _steady(0.8, 0.9),
    "UW": _steady(1.0, 1.0),
    "EY": Vowel(0.6, 0.0, 0.9, 0.0),
    "AY": Vowel(0.0, 0.5, 0.9, 0.0),
    "OY": Vowel(0.3, 1.0, 0.9, 0.0),
    "AW": Vowel(0.0, 0.5, 0.8, 0.9),
    "OW": Vowel(0.5, 0.9, 0.8, 0.9),
}

PHONES: Final[Mapping[str, Consonant | Vowel]] = MappingProxyType({**_CONSONANTS, **_VOWELS})
"""ARPAbet without stress."""

_KIN: Final = frozenset(
    {frozenset({"W", "UW"}), frozenset({"Y", "IY"}), frozenset({"R", "ER"}), frozenset({"L", "OW"})}
)
"""Consonants that are all but vowels."""

_ANY: Final = 0.15
_BETWEEN_KIN: Final = 0.5
_LOST: Final = {"HH": 0.4, "AH": 0.6, "IH": 0.7, "T": 0.6, "D": 0.6}
_LOST_CONSONANT: Final = 0.75


@cache
def phone_difference(one: str, other: str) -> float:
    """How far apart two phones sound, 0 (the same) to 1 (nothing in common); KeyError for no phone."""
    if one == other:
        return 0.0
    match PHONES[one], PHONES[other]:
        case Consonant() as first, Consonant() as second:
            return min(1.0, _ANY + _between_consonants(first, second))
        case Vowel() as first, Vowel() as second:
            return min(1.0, _ANY + _between_vowels(first, second))
        case _:
            return _BETWEEN_KIN if frozenset({one, other}) in _KIN else 1.0


def phone_weight(phone: str) -> float:
    """What it costs to miss a phone altogether, up to 1: little for breath and dull vowels."""
    return _LOST.get(phone, _LOST_CONSONANT if isinstance(PHONES[phone], Consonant) else 1.0)


def _between_consonants(first: Consonant, second: Consonant) -> float:
    return (
        0.25 * (first.is_voiced != second.is_voiced)
        + 0.25 * (first.is_nasal != second.is_nasal)
        + 0.2 * (first.flows != second.flows)
        + 0.15 * (first.is_sonorant != second.is_sonorant)
        + 0.2 * (first.hisses != second.hisses)
        + 0.04 * abs(first.place - second.place)
    )


def _between_vowels(first: Vowel, second: Vowel) -> float:
    start = abs(first.height - second.height) + abs(first.back - second.back)
    end = abs(first.end_height - second.end_height) + abs(first.end_back - second.end_back)
    return 0.35 * start + 0.25 * end
