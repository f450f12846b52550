"""Words that mean the same and sound different: the normal form has one, an ear must know them all."""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from runner.language.cardinal import HUNDRED, NUMBER_WORDS, THOUSAND
from runner.language.digit import DECIMAL, DIGITS, POINT, RADIO_SPELLINGS

ZERO: Final = DIGITS["0"]
OH: Final = "oh"

SAME_WORD: Final[Mapping[str, str]] = MappingProxyType(
    {**RADIO_SPELLINGS, "readback": "read back", "ampere": "amp", "amperes": "amps"}
)
"""A word as it may be written or said, and what stands for it in the normal form."""


def ways_to_say(phrase: str) -> tuple[tuple[str, ...], ...]:
    """For each word of a phrase in normal form, everything that may be said for it, the word itself first.

    What `normalise` takes for the word is among it. So is "oh" at either end of a number, which the normal
    form leaves as it is ("o two" may be a label), but not after a single digit: nobody says "two oh" for 20.
    """
    words = phrase.split()
    return tuple(tuple(dict.fromkeys(_ways(words, index))) for index in range(len(words)))


def _ways(words: Sequence[str], index: int) -> Iterator[str]:
    word = words[index]
    yield word
    yield from (other for other, normal in SAME_WORD.items() if normal == word)
    if word == ZERO and _may_be_oh(words, index):
        yield OH
    if word in (HUNDRED, THOUSAND) and words[index + 1 : index + 2] and words[index + 1] in NUMBER_WORDS:
        yield f"{word} and"


def _may_be_oh(words: Sequence[str], index: int) -> bool:
    """Before another word of the number, after its point, or after two of its words."""
    before, after = words[:index][-2:], words[index + 1 : index + 2]
    return (
        (bool(after) and after[0] in NUMBER_WORDS)
        or before[-1:] in ([DECIMAL], [POINT])
        or (len(before) > 1 and NUMBER_WORDS.issuperset(before))
    )
