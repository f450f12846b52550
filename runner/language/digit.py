"""Digits and their words: the one table behind what is heard, understood and read back."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

DECIMAL: Final = "decimal"
"""How ICAO speaks the decimal point (Annex 10 Vol II 5.2.1.4)."""
POINT: Final = "point"
"""How the FAA speaks it (JO 7110.65 TBL 2-4-1)."""
MINUS: Final = "minus"

DIGITS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "0": "zero",
        "1": "one",
        "2": "two",
        "3": "three",
        "4": "four",
        "5": "five",
        "6": "six",
        "7": "seven",
        "8": "eight",
        "9": "nine",
        ".": DECIMAL,
        "-": MINUS,
    }
)
"""The character of a written number and the word for it."""

RADIO_SPELLINGS: Final[Mapping[str, str]] = MappingProxyType(
    {"tree": "three", "fower": "four", "fife": "five", "niner": "nine", "tousand": "thousand"}
)
"""Words written as radiotelephony pronounces them, and the plain words that they are."""

RADIO_PRONUNCIATIONS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "zero": ("Z IY R OW", "Z IH R OW"),
        "three": ("T R IY",),
        "four": ("F OW ER",),
        "five": ("F AY F",),
        "nine": ("N AY N ER",),
        "decimal": ("D EY S IY M AH L", "D EH S IH M AH L"),
        "thousand": ("T AW Z AH N D",),
        "amp": ("AE M P",),
        "amps": ("AE M P S",),
    }
)
"""ARPAbet of the radiotelephony pronunciations (and of the units) that a general dictionary lacks.

They come on top of the dictionary's, so that an ear hears "niner" where "nine" is in force.
"""


def spell(written: str) -> str:
    """The words of a written number, digit by digit: `24.6` is "two four decimal six"."""
    return " ".join(DIGITS[character] for character in written)
