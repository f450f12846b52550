"""What may be said while an item is asked and clocks run: the phrases in force."""

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from runner.checklist.format.check import Item
from runner.language.catalogue import Word
from runner.language.force import InForce, contradiction, may_take, merged, word_meanings
from runner.language.meaning import Corrected, Meaning, Picked, Value


@lru_cache(maxsize=256)
def phrases_of(
    item: Item | None = None,
    *,
    pulled: tuple[Item, ...] = (),
    stuck: tuple[Item, ...] = (),
    corrected: Item | None = None,
    words: tuple[Word, ...] = tuple(Word),
) -> InForce:
    """The item's answers, the open clocks' phrases, standard words; asked many times over, it is made once.

    `pulled` are the items whose clocks are open, `stuck` those whose limit has passed, `corrected` the one
    whose new answer may follow the word "correction" in one breath. Where one phrase has two meanings a
    clock's wins over all else, and an item's own over "affirm", "negative" and corrections. ValueError when
    two clocks, two answers of the item, or an answer and any other standard word share a phrase.
    """
    clocks = [*((clock, False) for clock in pulled), *((clock, True) for clock in stuck)]
    ends = merged(line for clock, is_stuck in clocks for line in endings(clock, is_stuck=is_stuck).items())
    own = {} if item is None else answer_meanings(item)
    said = {phrase: meaning for phrase, meaning in word_meanings(words).items() if phrase not in ends}
    for phrase in own.keys() & said.keys() - ends.keys():
        if not may_take(said[phrase]):
            raise ValueError(contradiction(phrase, own[phrase], said[phrase]))
    anew = {} if corrected is None else corrections(corrected)
    return InForce(MappingProxyType({**anew, **said, **own, **ends}))


@lru_cache(maxsize=64)
def answer_meanings(item: Item) -> Mapping[str, Meaning]:
    """The phrases that answer this item in its turn; ValueError when two answers share one."""
    return MappingProxyType(merged(item.body.sayings(item.name)))


@lru_cache(maxsize=64)
def corrections(item: Item) -> Mapping[str, Meaning]:
    """The word "correction" with each answer of the item behind it; none for an item with a clock."""
    return MappingProxyType(
        {
            f"{Word.CORRECTION.value} {phrase}": Corrected(meaning)
            for phrase, meaning in answer_meanings(item).items()
            if isinstance(meaning, Picked | Value)
        }
    )


def endings(item: Item, *, is_stuck: bool) -> Mapping[str, Meaning]:
    """The phrases that end the item's clock, its flag pulled or stuck; TypeError where it has no clock."""
    if item.body.clock is None:
        raise TypeError(f'item "{item.name}" is no spin-up and has no clock')
    return item.body.clock.endings(item.name, is_stuck=is_stuck)
