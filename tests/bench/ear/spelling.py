"""How a phrase in force may be written by a model that writes sentences, so that it is judged fairly."""

import re
from typing import Final

from num2words import num2words

_HYPHENED: Final = {num2words(n).replace("-", " "): num2words(n) for n in range(100)}
_WRITTEN: Final = {words: str(n) for n, words in enumerate(_HYPHENED)} | {"niner": "9"}


def spellings(phrase: str) -> tuple[str, ...]:
    """The phrase in words, `twenty-four` with and without its hyphen, and with its numbers in figures.

    Figures stand alone or joined; the first letter is large or not, and a full stop follows or not.
    """
    words = phrase.split()
    figures, hyphened = _replaced(words, _WRITTEN), _replaced(words, _HYPHENED)
    plain = dict.fromkeys((phrase, " ".join(hyphened), " ".join(figures), _joined(figures)))
    return tuple(
        f"{text}{stop}"
        for given in plain
        for text in dict.fromkeys((f"{given[0].upper()}{given[1:]}", given))
        for stop in (".", "")
    )


def _replaced(words: list[str], numbers: dict[str, str]) -> list[str]:
    """Each number of one or two words by what stands for it: `twenty four` by `24`, `two four` by `2 4`."""
    found: list[str] = []
    at = 0
    while at < len(words):
        both = " ".join(words[at : at + 2])
        is_pair = " " in both and both in numbers
        found.append(numbers[both] if is_pair else numbers.get(words[at], words[at]))
        at += 2 if is_pair else 1
    return found


def _joined(figures: list[str]) -> str:
    """Neighbouring figures as one number: `2 4 decimal 6 volts` to `24.6 volts`."""
    text = " ".join(figures)
    text = re.sub(r"(?<=\d) (?:decimal|point) (?=\d)", ".", text)
    return re.sub(r"(?<=[\d.]) (?=\d)", "", text)
