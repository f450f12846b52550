"""The phrases in force: one table that the recogniser is given and that answers are read with.

What stands for an item in it, `checklist/kind` says.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from runner.language.catalogue import YIELDING, FlagEnd, Word
from runner.language.meaning import Command, Corrected, Meaning, Picked, Pulled, Value
from runner.language.spelling import normalise


@dataclass(frozen=True, slots=True)
class InForce:
    """Canonical phrases (lower case words, no punctuation) and what each means."""

    meanings: Mapping[str, Meaning]

    @property
    def phrases(self) -> tuple[str, ...]:
        """The phrases in their order, for a recogniser."""
        return tuple(self.meanings)


def understand(text: str, phrases: InForce) -> Meaning | None:
    """The meaning of the text among these phrases in force; None when it is none of them, word for word."""
    return phrases.meanings.get(normalise(text))


@lru_cache(maxsize=16)
def word_meanings(words: tuple[Word, ...] = tuple(Word)) -> Mapping[str, Meaning]:
    """The phrases of the standard words; few sets of words are ever in force, and each at every question."""
    return MappingProxyType({phrase: Command(word) for word in words for phrase in word.phrases})


def may_take(meaning: Meaning) -> bool:
    """Whether an item's own answer may use this standard word's phrase."""
    return isinstance(meaning, Command) and meaning.word in YIELDING


def contradiction(phrase: str, one: Meaning, other: Meaning) -> str:
    """The message for a phrase that means two things at once."""
    return f'"{phrase}" would mean {describe(one)} and {describe(other)} at the same time; reword one of them'


def describe(meaning: Meaning) -> str:
    """A meaning in words, for messages."""
    match meaning:
        case Command(word):
            return f'the standard word "{word}"'
        case Picked(item, label):
            return f'"{label}" of item "{item}"'
        case Value(item, number):
            return f'{number} of item "{item}"'
        case Corrected(answer):
            return f"a correction to {describe(answer)}"
        case Pulled(item):
            return f'{FlagEnd.PULLED} of item "{item}"'
        case _:
            return f'{FlagEnd.STUCK} of item "{meaning.item}"'


def merged(lines: Iterable[tuple[str, Meaning]]) -> dict[str, Meaning]:
    """Phrases with their meanings as one table; ValueError when one phrase means two things."""
    table: dict[str, Meaning] = {}
    for phrase, meaning in lines:
        if table.setdefault(phrase, meaning) != meaning:
            raise ValueError(contradiction(phrase, table[phrase], meaning))
    return table


def normal_phrase(words: str, item: str) -> str:
    """An author's phrase as a recogniser gives it back; ValueError, naming the item, when it has no words."""
    phrase = normalise(words)
    if not phrase:
        raise ValueError(f'item "{item}": the phrase "{words}" has no words')
    return phrase
