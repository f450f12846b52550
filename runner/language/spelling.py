"""Words as they are written down brought to one form, so that equal phrases are equal texts."""

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from types import MappingProxyType
from typing import Final

from runner.language.cardinal import HUNDRED, NUMBER_WORDS, THOUSAND
from runner.language.digit import DECIMAL, DIGITS, POINT, spell
from runner.language.synonym import OH, SAME_WORD

_SIGNS: Final = (
    ("%", " percent "),
    ("°", " degrees "),
    ("\N{MINUS SIGN}", "-"),
    ("\N{RIGHT SINGLE QUOTATION MARK}", "'"),
)

_WRITTEN: Final = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?|\d+(?:\.\d+)?|[^\W\d_]+(?:'[^\W\d_]+)*")
"""A number (a minus only where none is a hyphen), or a word with its apostrophes."""

_PAIRS: Final[Mapping[tuple[str, str], str]] = MappingProxyType(
    {("stand", "by"): "standby", ("per", "cent"): "percent"}
)
"""Two words that are one, sounding the same."""

_OH: Final = frozenset({OH, "o"})


def normalise(text: str) -> str:
    """Lower case words with one space between them; numbers in words, digit by digit where written in digits.

    Punctuation and hyphens go; niner, fife, fower and tree become plain digits; "and" goes after
    "hundred" and "thousand", "oh" between number words is zero. Doing it twice changes nothing.
    """
    plain = unicodedata.normalize("NFKC", text).lower()
    for sign, spoken in _SIGNS:
        plain = plain.replace(sign, spoken)
    words = [word for token in _WRITTEN.findall(plain) for word in _plain(token)]
    return " ".join(_without_and(_with_zeros(_joined(words))))


def _plain(token: str) -> list[str]:
    if token[-1].isdecimal() and token.isascii():
        return spell(token).split()
    return SAME_WORD.get(token, token).split()


def _joined(words: Sequence[str]) -> list[str]:
    done: list[str] = []
    for word in words:
        pair = _PAIRS.get((done[-1], word)) if done else None
        if pair is None:
            done.append(word)
        else:
            done[-1] = pair
    return done


def _with_zeros(words: Sequence[str]) -> list[str]:
    """Every run of "oh" between number words, or after the decimal point, becomes zeros."""
    runs = [(is_oh, list(run)) for is_oh, run in groupby(words, key=_OH.__contains__)]
    done: list[str] = []
    for index, (is_oh, run) in enumerate(runs):
        before = done[-1] if done else ""
        after = runs[index + 1][1][0] if index + 1 < len(runs) else ""
        is_zero = before in (DECIMAL, POINT) or (before in NUMBER_WORDS and after in NUMBER_WORDS)
        done += [DIGITS["0"]] * len(run) if is_oh and is_zero else run
    return done


def _without_and(words: Sequence[str]) -> Iterator[str]:
    for index, word in enumerate(words):
        before = words[index - 1] if index else ""
        after = words[index + 1] if index + 1 < len(words) else ""
        if word == "and" and before in (HUNDRED, THOUSAND) and after in NUMBER_WORDS:
            continue
        yield word
