"""One key per answer: letters for the answers whose author named none.

A running clock may be ended while any item is asked, so clocks take their letters first and share them
with nobody: the right hand's home row for pulled, the row below for stuck.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from string import ascii_lowercase

from runner.checklist.format.check import Body, Item, Reading, Response, SpinUp
from runner.errors import FileError

PULLED_LETTERS = "ghjkf"
STUCK_LETTERS = "vbmxz"
WORD_LETTERS = frozenset("acn")
"""Affirm, continue and negative, while a question waits; clocks do without them, since they run on then."""


def with_keys(items: Sequence[Item]) -> tuple[Item, ...]:
    """The same items, each answer with a letter that is its own; FileError when letters run out."""
    written = {response.key for item in items for response in item.responses} - {""}
    clocks: dict[str, SpinUp] = {}
    taken = written | WORD_LETTERS
    for item in items:
        if isinstance(item.body, SpinUp):
            clocks[item.name] = _clock(item, item.body, taken)
    held = taken - written - WORD_LETTERS
    return tuple(
        replace(item, body=clocks[item.name] if item.name in clocks else _body(item, held)) for item in items
    )


def _clock(item: Item, clock: SpinUp, taken: set[str]) -> SpinUp:
    pulled, stuck = (
        replace(response, key=_letter(item, letters, taken))
        for response, letters in ((clock.pulled, PULLED_LETTERS), (clock.stuck, STUCK_LETTERS))
    )
    return replace(clock, pulled=pulled, stuck=stuck)


def _body(item: Item, held: Iterable[str]) -> Body:
    if isinstance(item.body, (Reading, SpinUp)):
        return item.body
    taken = {*held, *(response.key for response in item.responses)}
    return replace(item.body, responses=tuple(_keyed(item, each, taken) for each in item.responses))


def _keyed(item: Item, response: Response, taken: set[str]) -> Response:
    if response.key:
        return response
    initials = "".join(word[0] for word in response.label.lower().split())
    return replace(response, key=_letter(item, initials + response.label.lower(), taken))


def _letter(item: Item, wanted: str, taken: set[str]) -> str:
    """The first free letter, the wanted ones before the rest of the alphabet; it is taken from then on."""
    for letter in wanted + ascii_lowercase:
        if letter in ascii_lowercase and letter not in taken:
            taken.add(letter)
            return letter
    raise FileError(item.place, f'item "{item.name}": no letter is left for its answers; write fewer of them')
