"""Alignment: what was recited against the nearest order that is allowed, with the fewest items out of place.

Items that were said the wrong way round exclude one another; the largest set without such a pair is a largest
antichain (Dilworth 1950), found by a matching and the cover that it gives (König 1931).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rapidfuzz.distance import LCSseq

from runner.drill.recited.flow_order import FlowOrder

Graph = Mapping[str, frozenset[str]]


@dataclass(frozen=True, slots=True)
class FlowAlignment:
    """What became of each item, and of what was said beside them."""

    right: tuple[str, ...]
    """Said where they may be said, in the order of saying."""
    misplaced: tuple[str, ...]
    """Said, but before something that they wait for, or after something that waits for them."""
    omitted: tuple[str, ...]
    intruded: tuple[str, ...]
    """Said, and no items of this check."""
    target: tuple[str, ...]
    """The allowed order that is nearest to what was said."""


def align(order: FlowOrder, said: Sequence[str]) -> FlowAlignment:
    """Hold what was said, each thing once, against every order that is allowed."""
    known = [name for name in said if name in order.before]
    kept = largest_without_conflict(_conflicts(order, known), known)
    target = nearest_order(order, kept)
    right = [
        name
        for step in LCSseq.opcodes(said, target)
        if step.tag == "equal"
        for name in said[step.src_start : step.src_end]
    ]
    return FlowAlignment(
        tuple(right),
        tuple(name for name in known if name not in right),
        tuple(name for name in target if name not in known),
        tuple(name for name in said if name not in order.before),
        target,
    )


def nearest_order(order: FlowOrder, kept: Sequence[str]) -> tuple[str, ...]:
    """All items in an order that is allowed, those that are kept in theirs, the others by the check."""
    follows = dict(zip(kept[1:], kept, strict=False))
    left, done = list(order.items), list[str]()
    while left:
        free = (
            name for name in left if order.before[name].isdisjoint(left) and follows.get(name) not in left
        )
        done.append(next(free))
        left.remove(done[-1])
    return tuple(done)


def largest_without_conflict(conflicts: Graph, names: Sequence[str]) -> list[str]:
    """A largest set of names of which no two conflict, in their order."""
    partner: dict[str, str] = {}
    for name in names:
        _augment(conflicts, name, partner, set())
    unmatched = set(names) - set(partner.values())
    reached, later = set(unmatched), set[str]()
    waiting = list(unmatched)
    while waiting:
        for other in conflicts[waiting.pop()] - later:
            later.add(other)
            if partner[other] not in reached:
                reached.add(partner[other])
                waiting.append(partner[other])
    return [name for name in names if name in reached and name not in later]


def _augment(conflicts: Graph, name: str, partner: dict[str, str], seen: set[str]) -> bool:
    """One more pair of the matching, from a name that has none (Kuhn 1955)."""
    for other in sorted(conflicts[name] - seen):
        seen.add(other)
        if other not in partner or _augment(conflicts, partner[other], partner, seen):
            partner[other] = name
            return True
    return False


def _conflicts(order: FlowOrder, known: Sequence[str]) -> Graph:
    """Of each item, those that were said before it and had to come after it."""
    return {
        name: frozenset(other for other in known[:number] if name in order.before[other])
        for number, name in enumerate(known)
    }
