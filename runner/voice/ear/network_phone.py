"""The 39 phones of American English that the built-in ear's network hears, and how they are numbered."""

from typing import Final

PHONES: Final = (
    "AA", "AE", "AH", "AO", "AW", "AY", "B", "CH", "D", "DH", "EH", "ER", "EY",
    "F", "G", "HH", "IH", "IY", "JH", "K", "L", "M", "N", "NG", "OW", "OY",
    "P", "R", "S", "SH", "T", "TH", "UH", "UW", "V", "W", "Y", "Z", "ZH",
)  # fmt: skip
"""CMUdict's phone set without stress marks, in the order of the network's outputs 1 to 39."""

BLANK: Final = 0
"""The network's output for silence, noise and the stretches between phones."""

OUTPUTS: Final = len(PHONES) + 1

_NUMBERS: Final = {phone: number for number, phone in enumerate(PHONES, start=1)}


def phone_numbers(spelling: str) -> tuple[int, ...]:
    """Number the phones of `T UW1` or `t uw`; ValueError names one that does not exist."""
    phones = [part.rstrip("012").upper() for part in spelling.split()]
    for phone in phones:
        if phone not in _NUMBERS:
            raise ValueError(f"{phone!r} is not a phone; the phones are {' '.join(PHONES)}")
    return tuple(_NUMBERS[phone] for phone in phones)
