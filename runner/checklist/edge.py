"""Edges of a reading beyond which a value is danger: `below 20.0`, `above 57`."""

import re
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from typing import Final

from runner.checklist.model import Reading
from runner.document import NUMBER, Node

BELOW: Final = "below"
ABOVE: Final = "above"
_EDGE = re.compile(f"({BELOW}|{ABOVE}) ({NUMBER.pattern})")


def read_stop(node: Node, reading: Reading) -> Reading:
    """The reading with its stop edges; FileError for one that cuts into a band or that no value can pass."""
    edges: dict[str, Decimal] = {}
    for entry in _entries(node):
        words = entry.text()
        found = _EDGE.fullmatch(words)
        if found is None:
            entry.fail(f'"{words}" is not an edge; write "{BELOW} 20.0" or "{ABOVE} 57"')
        side, number = found[1], Decimal(found[2])
        if side in edges:
            entry.fail(f'"{side}" is written twice; keep one of them')
        if number % reading.resolution:
            entry.fail(f"{number} is no step of {reading.resolution}; write an edge that the gauge can show")
        _check_edge(entry, side, number, reading)
        edges[side] = number
    return replace(reading, stop_below=edges.get(BELOW), stop_above=edges.get(ABOVE))


def _entries(node: Node) -> Iterable[Node]:
    return (node,) if isinstance(node.value, str) else node.items()


def _check_edge(node: Node, side: str, number: Decimal, reading: Reading) -> None:
    good, whole = reading.caution_band or reading.pass_band, reading.plausible
    limit = good.low if side == BELOW else good.high
    if number > limit if side == BELOW else number < limit:
        node.fail(
            f"{side} {number} reaches into {good.low} to {good.high}, which is no danger; "
            f'write "{side} {limit}" or further out'
        )
    if not whole.low < number < whole.high:
        node.fail(
            f"no value {side} {number} can be said, since only {whole.low} to {whole.high} is plausible; "
            'write a wider "plausible" or an edge inside it'
        )
