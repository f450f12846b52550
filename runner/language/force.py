"""The phrases in force: one table that the recogniser is given and that answers are read with."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from runner.checklist.format.check import Item, Reading, Response, SpinUp
from runner.language.catalogue import YIELDING, FlagEnd
from runner.language.meaning import Command, Meaning, Picked, Pulled, Stuck, Value, Word
from runner.language.number import value_phrases
from runner.language.spelling import normalise


@dataclass(frozen=True, slots=True)
class InForce:
    """Canonical phrases (lower case words, no punctuation) and what each means."""

    meanings: Mapping[str, Meaning]

    @property
    def phrases(self) -> tuple[str, ...]:
        """The phrases in their order, for a recogniser."""
        return tuple(self.meanings)


def in_force(
    item: Item | None = None,
    *,
    pulled: Iterable[Item] = (),
    stuck: Iterable[Item] = (),
    words: Iterable[Word] = tuple(Word),
) -> InForce:
    """What may be said now: the item's answers, the open clocks' phrases, standard words.

    `pulled` are the spin-up items whose clocks are open, `stuck` those whose limit has passed. A
    spin-up item has no answers of its own here: its phrases depend on its clock. Where one phrase
    has two meanings a spin-up's wins over all else, and an item's own over "affirm" and "negative".
    ValueError when two gyros, two answers of the item, or an answer and any other standard word
    share a phrase.
    """
    return _in_force(item, tuple(pulled), tuple(stuck), tuple(words))


@lru_cache(maxsize=256)
def _in_force(
    item: Item | None, pulled: tuple[Item, ...], stuck: tuple[Item, ...], words: tuple[Word, ...]
) -> InForce:
    """The same question is asked many times over: its table is made once."""
    clocks = _merged((*map(pulled_meanings, pulled), *map(stuck_meanings, stuck)))
    own = answer_meanings(item) if item is not None else {}
    said = {phrase: meaning for phrase, meaning in word_meanings(words).items() if phrase not in clocks}
    for phrase in own.keys() & said.keys() - clocks.keys():
        if not may_take(said[phrase]):
            raise ValueError(contradiction(phrase, own[phrase], said[phrase]))
    return InForce(MappingProxyType({**said, **own, **clocks}))


def understand(text: str, phrases: InForce) -> Meaning | None:
    """The meaning of the text among these phrases in force; None when it is none of them, word for word."""
    return phrases.meanings.get(normalise(text))


def answer_meanings(item: Item) -> Mapping[str, Meaning]:
    """The phrases that answer this item; none for a spin-up. ValueError when two answers share one."""
    if isinstance(item.body, SpinUp):
        return {}
    if isinstance(item.body, Reading):
        return _value_meanings(item.name, item.body)
    return _merged(
        {phrase: Picked(item.name, response.label) for phrase in response_phrases(item, response)}
        for response in item.responses
    )


def response_phrases(item: Item, response: Response) -> tuple[str, ...]:
    """A named answer's phrases in normal form; who may say "affirm" for it may say "affirmative" too."""
    phrases = [_phrase(words, item) for words in response.phrases]
    for word in YIELDING:
        if not set(word.phrases).isdisjoint(phrases):
            phrases += word.phrases
    return tuple(dict.fromkeys(phrases))


def pulled_meanings(item: Item) -> Mapping[str, Meaning]:
    """The phrases that end the clock of a spin-up item, its flag pulled."""
    return {_phrase(words, item): Pulled(item.name) for words in _spin_up(item).pulled.phrases}


def stuck_meanings(item: Item) -> Mapping[str, Meaning]:
    """The phrases that end the clock of a spin-up item as a squawk."""
    return {_phrase(words, item): Stuck(item.name) for words in _spin_up(item).stuck.phrases}


def word_meanings(words: Iterable[Word] = tuple(Word)) -> Mapping[str, Meaning]:
    """The phrases of the standard words."""
    return _word_meanings(tuple(words))


@lru_cache(maxsize=16)
def _word_meanings(words: tuple[Word, ...]) -> Mapping[str, Meaning]:
    """Few sets of words are ever in force, and each at every question."""
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
        case Pulled(item):
            return f'{FlagEnd.PULLED} of item "{item}"'
        case _:
            return f'{FlagEnd.STUCK} of item "{meaning.item}"'


@lru_cache(maxsize=64)
def _value_meanings(name: str, reading: Reading) -> Mapping[str, Meaning]:
    return {phrase: Value(name, number) for phrase, number in value_phrases(reading).items()}


def _merged(tables: Iterable[Mapping[str, Meaning]]) -> dict[str, Meaning]:
    merged: dict[str, Meaning] = {}
    for phrase, meaning in _lines(tables):
        if merged.setdefault(phrase, meaning) != meaning:
            raise ValueError(contradiction(phrase, merged[phrase], meaning))
    return merged


def _lines(tables: Iterable[Mapping[str, Meaning]]) -> Iterator[tuple[str, Meaning]]:
    for table in tables:
        yield from table.items()


def _phrase(words: str, item: Item) -> str:
    phrase = normalise(words)
    if not phrase:
        raise ValueError(f'item "{item.name}": the phrase "{words}" has no words')
    return phrase


def _spin_up(item: Item) -> SpinUp:
    if not isinstance(item.body, SpinUp):
        raise TypeError(f'item "{item.name}" is no spin-up and has no clock')
    return item.body
