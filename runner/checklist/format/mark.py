"""Marks of danger and of movement on an item: its remedy, what it moves and returns, how long it waits."""

from collections.abc import Mapping
from typing import Final

from runner.checklist.format.check import Body
from runner.checklist.format.named_answer import read_names
from runner.document import Node

MARK_KEYS: Final = ("moves", "returns", "remedy", "silence")
SELECTOR: Final = "selector"
"""Its name among what can be moved: `selects` moves it, `restores` returns it."""


def read_moves(keys: Mapping[str, Node], body: Body) -> tuple[str, ...]:
    """Switches that the item takes out of their place; FileError where its kind moves nothing."""
    if "moves" not in keys:
        return ()
    if body.moves_nothing:
        keys["moves"].fail(
            f'a {body.moves_nothing}, so it moves nothing; write "moves" at the item that does'
        )
    return _switches(keys["moves"], "selects")


def read_returns(keys: Mapping[str, Node], body: Body) -> tuple[str, ...]:
    """Switches that the item puts back; FileError for any kind but an action."""
    if "returns" not in keys:
        return ()
    if not body.is_deed:
        keys["returns"].fail('only an action puts something back; write "action: ..." with what is said then')
    names = _switches(keys["returns"], "restores")
    for name in names:
        if "moves" in keys and name in keys["moves"].texts():
            keys["returns"].fail(f'"{name}" is moved by this item; return it by a later one')
    return names


def _switches(node: Node, key: str) -> tuple[str, ...]:
    names = read_names(node)
    if SELECTOR in names:
        node.fail(f'the selector counts by itself; remove it here and write "{key}" at the action')
    return names


def read_remedy(keys: Mapping[str, Node], body: Body, node: Node) -> str:
    """What to do about a stop; FileError where a stop has none, or a remedy no stop."""
    if not body.can_stop:
        if "remedy" in keys:
            keys["remedy"].fail(
                'nothing here stops the run; add an answer that means "stop", or remove "remedy"',
                at=keys["remedy"].key_place,
            )
        return ""
    if "remedy" not in keys:
        node.fail('this item can stop the run; add "remedy: ..." with what to do about it')
    return keys["remedy"].text()
