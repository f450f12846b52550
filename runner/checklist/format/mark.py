"""Marks of danger and of movement on an item: its remedy, what it moves and returns, how long it waits."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from runner.checklist.format.check import SILENCE_SECONDS, Body
from runner.checklist.format.duration import read_seconds
from runner.checklist.format.named_answer import read_names
from runner.document import Node

MARK_KEYS: Final = ("moves", "returns", "remedy", "silence")
SELECTOR: Final = "selector"
"""Moves and comes back with `selects` and `restores` alone."""


@dataclass(frozen=True, slots=True)
class Marks:
    """What an item's file says of danger and movement."""

    moves: tuple[str, ...] = ()
    returns: tuple[str, ...] = ()
    remedy: str = ""
    silence_seconds: float = SILENCE_SECONDS


def read_marks(keys: Mapping[str, Node], body: Body, node: Node) -> Marks:
    """The marks; FileError where they do not fit the item's kind, or a stop has no remedy."""
    return Marks(
        moves=_moves(keys, body),
        returns=_returns(keys, body),
        remedy=_remedy(keys, body, node),
        silence_seconds=read_seconds(keys["silence"]) if "silence" in keys else SILENCE_SECONDS,
    )


def _moves(keys: Mapping[str, Node], body: Body) -> tuple[str, ...]:
    if "moves" not in keys:
        return ()
    if body.moves_nothing:
        keys["moves"].fail(
            f'a {body.moves_nothing}, so it moves nothing; write "moves" at the item that does'
        )
    return _switches(keys["moves"], "selects")


def _returns(keys: Mapping[str, Node], body: Body) -> tuple[str, ...]:
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


def _remedy(keys: Mapping[str, Node], body: Body, node: Node) -> str:
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
