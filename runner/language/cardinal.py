"""Whole numbers in groups: "twenty four", "one hundred twenty", "one zero thousand five hundred"."""

from collections.abc import Iterator
from typing import Final

from runner.language.digit import DIGITS, spell

LARGEST: Final = 999_999
"""No gauge here shows more."""

HUNDRED: Final = "hundred"
THOUSAND: Final = "thousand"

TENS: Final = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")

TEENS: Final = (
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
)

NUMBER_WORDS: Final = frozenset({*DIGITS.values(), "point", *TEENS, *TENS, HUNDRED, THOUSAND})
"""Every word that a spoken number can hold."""


def cardinal(whole: int) -> str:
    """The number in groups, without "and": 120 is "one hundred twenty". ValueError outside 0 to LARGEST."""
    if not 0 <= whole <= LARGEST:
        raise ValueError(f"{whole} cannot be spoken here; write 0 to {LARGEST}")
    return " ".join(_groups(whole)) or DIGITS["0"]


def grouped(whole: int) -> tuple[str, ...]:
    """Every accepted form in groups; whole thousands may be said digit by digit ("one zero thousand").

    Source: AIM 4-2-8, CAP 413 2.13.2.
    """
    forms = [cardinal(whole)]
    thousands, rest = divmod(whole, 1000)
    if thousands:
        forms.append(" ".join((spell(str(thousands)), THOUSAND, *_groups(rest))))
    return tuple(dict.fromkeys(forms))


def may_grow(words: str) -> bool:
    """Whether one more digit's word would make another number of it: "twenty" and "six" are twenty-six."""
    return words.rsplit(maxsplit=1)[-1] in {*TENS, HUNDRED, THOUSAND}


def _groups(whole: int) -> Iterator[str]:
    thousands, rest = divmod(whole, 1000)
    if thousands:
        yield from _groups(thousands)
        yield THOUSAND
    hundreds, rest = divmod(rest, 100)
    if hundreds:
        yield DIGITS[str(hundreds)]
        yield HUNDRED
    if 10 <= rest < 20:  # noqa: PLR2004 - the teens are one word each
        yield TEENS[rest - 10]
        return
    tens, ones = divmod(rest, 10)
    if tens:
        yield TENS[tens - 2]
    if ones:
        yield DIGITS[str(ones)]
