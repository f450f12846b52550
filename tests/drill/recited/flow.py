"""A small flow, with all of its orders."""

from itertools import permutations
from pathlib import Path
from typing import Final

from runner.checklist.format.check_load import load_check
from runner.drill.recited.flow_order import FlowOrder, flow_order

SMALL: Final = load_check(Path(__file__).with_name("small.yaml"))
SMALL_ORDER: Final = flow_order(SMALL, None)


def orders(order: FlowOrder) -> list[tuple[str, ...]]:
    """Every order of all items that is allowed, by trying every permutation."""
    return [each for each in permutations(order.items) if is_allowed(order, each)]


def is_allowed(order: FlowOrder, said: tuple[str, ...]) -> bool:
    """Whether nothing is said before what it waits for."""
    return all(not order.before[name] & set(said[at + 1 :]) for at, name in enumerate(said))


def longest_common(one: tuple[str, ...], other: tuple[str, ...]) -> int:
    """Of two sequences, by the usual table."""
    row = [0] * (len(other) + 1)
    for name in one:
        diagonal = 0
        for at, wanted in enumerate(other, 1):
            diagonal, row[at] = row[at], diagonal + 1 if name == wanted else max(row[at], row[at - 1])
    return row[-1]
