"""One key per answer: letters for the answers whose author named none.

A running clock may be ended while any item is asked, so clocks take their letters first and share them
with nobody. From one item to the next the same words keep their letter, and no letter changes its words; but
what passes a critical item has another letter than what passed the item before, so that no habit passes it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from string import ascii_lowercase

from runner.checklist.format.check import Body, Item, Response
from runner.errors import FileError
from runner.language.catalogue import Outcome

WORD_LETTERS = frozenset("acn")
"""Affirm, continue and negative, while a question waits; clocks do without them, since they run on then."""


def with_keys(items: Sequence[Item]) -> tuple[Item, ...]:
    """The same items, each answer with a letter that is its own; FileError when letters run out."""
    written = {response.key for item in items for response in item.responses} - {""}
    clocks: dict[str, Body] = {}
    taken = written | WORD_LETTERS
    for item in items:
        if item.body.clock is not None:
            keys = {one.label: _letter(item, item.body.letters(one), taken) for one in item.responses}
            clocks[item.name] = item.body.keyed(keys)
    held = taken - written - WORD_LETTERS
    known, near = dict[str, str](), dict[str, str]()
    return tuple(
        replace(item, body=clocks[item.name] if item.name in clocks else _body(item, held, known, near))
        for item in items
    )


def _body(item: Item, held: Iterable[str], known: dict[str, str], near: dict[str, str]) -> Body:
    """The item's answers with their letters; `known` (label to letter) and `near` (the last item's) go on."""
    if not item.responses:  # a number's digits break any habit
        near.clear()
        return item.body
    keys = {one.label: one.key for one in item.responses if one.key}
    taken = {*held, *keys.values()}
    for one in item.responses:
        letter = known.get(one.label, "")
        if not one.key and letter not in ("", *taken) and _may_keep(item, one, near.get(letter)):
            keys[one.label] = letter
            taken.add(letter)
    for one in sorted(item.responses, key=lambda one: _gives_way(item, one)):
        if one.label not in keys:
            keys[one.label] = _letter(item, item.body.letters(one), taken, near)
    known.update(keys)
    near.clear()
    near.update({key: label for label, key in keys.items()})
    return item.body.keyed(keys)


def _may_keep(item: Item, one: Response, before: str | None) -> bool:
    """Whether an answer keeps its letter, which stood for the words `before` at the last item, if for any."""
    return before is None or (before == one.label and not (item.critical and one.outcome is Outcome.PASS))


def _gives_way(item: Item, one: Response) -> bool:
    """A pass has the space bar besides, but at critical items; its letter matters less than the others'."""
    return one.outcome is Outcome.PASS and not item.critical


def _letter(item: Item, wanted: str, taken: set[str], near: Iterable[str] = ()) -> str:
    """The first free letter, the wanted ones before the rest of the alphabet; it is taken from then on.

    A letter of the item before is taken only where nothing else is left.
    """
    avoided = set(near)
    for passed_over in (avoided, set[str]()):
        for letter in wanted + ascii_lowercase:
            if letter in ascii_lowercase and letter not in taken | passed_over:
                taken.add(letter)
                return letter
    raise FileError(item.place, f'item "{item.name}": no letter is left for its answers; write fewer of them')
