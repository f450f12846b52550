"""One key per answer: letters for the answers whose author named none.

A running clock may be ended while any item is asked, so clocks take their letters first and share them
with nobody.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from string import ascii_lowercase

from runner.checklist.format.check import Body, Item
from runner.errors import FileError

WORD_LETTERS = frozenset("acn")
"""Affirm, continue and negative, while a question waits; clocks do without them, since they run on then."""


def with_keys(items: Sequence[Item]) -> tuple[Item, ...]:
    """The same items, each answer with a letter that is its own; FileError when letters run out."""
    written = {response.key for item in items for response in item.responses} - {""}
    clocks: dict[str, Body] = {}
    taken = written | WORD_LETTERS
    for item, clock in ((item, item.body.clock) for item in items):
        if clock is not None:
            clocks[item.name] = clock.keyed(partial(_letter, item, taken))
    held = taken - written - WORD_LETTERS
    return tuple(replace(item, body=clocks.get(item.name) or _keyed(item, held)) for item in items)


def _keyed(item: Item, held: set[str]) -> Body:
    """Its own letters, none of them a clock's."""
    taken = {*held, *(response.key for response in item.responses)}
    return item.body.keyed(partial(_letter, item, taken))


def _letter(item: Item, taken: set[str], wanted: str) -> str:
    """The first free letter, the wanted ones before the rest of the alphabet; it is taken from then on."""
    for letter in wanted + ascii_lowercase:
        if letter in ascii_lowercase and letter not in taken:
            taken.add(letter)
            return letter
    raise FileError(item.place, f'item "{item.name}": no letter is left for its answers; write fewer of them')
