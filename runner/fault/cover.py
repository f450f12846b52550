"""The least cover: the fewest looks that together reveal everything that can be revealed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Generic, TypeVar

Key = TypeVar("Key")
Thing = TypeVar("Thing")

MOST_NODES: Final = 200_000
"""Of the search; past it the best found so far stands, which is told as such."""


def least_cover(reveals: Mapping[Key, frozenset[Thing]]) -> tuple[tuple[Key, ...], bool]:
    """The fewest keys whose sets together hold what all sets hold, and whether that is proved.

    Branch and bound over the thing that the fewest keys reveal; a greedy cover bounds it from the start.
    """
    kept = _undominated(reveals)
    wanted = frozenset[Thing]().union(*kept.values())
    search = _Search(kept, _greedy(kept, wanted))
    search.go((), wanted)
    return search.best, search.nodes < MOST_NODES


class _Search(Generic[Key, Thing]):
    def __init__(self, reveals: Mapping[Key, frozenset[Thing]], best: tuple[Key, ...]) -> None:
        self._reveals = dict(reveals)
        self.best = best
        self.nodes = 0

    def go(self, chosen: tuple[Key, ...], wanted: frozenset[Thing]) -> None:
        self.nodes += 1
        if not wanted:
            if len(chosen) < len(self.best):
                self.best = chosen
            return
        largest = max(len(each & wanted) for each in self._reveals.values())
        least_more = -(-len(wanted) // largest)
        if len(chosen) + least_more >= len(self.best) or self.nodes >= MOST_NODES:
            return
        rarest = min(wanted, key=lambda thing: (self._known(thing), str(thing)))
        ways = [key for key, each in self._reveals.items() if rarest in each]
        for key in sorted(ways, key=lambda key: (-len(self._reveals[key] & wanted), str(key))):
            self.go((*chosen, key), wanted - self._reveals[key])

    def _known(self, thing: Thing) -> int:
        return sum(thing in each for each in self._reveals.values())


def _undominated(reveals: Mapping[Key, frozenset[Thing]]) -> dict[Key, frozenset[Thing]]:
    """Keys that reveal something, without those whose set lies within an earlier or larger one."""
    kept: dict[Key, frozenset[Thing]] = {}
    for key, each in sorted(reveals.items(), key=lambda item: -len(item[1])):
        if each and not any(each <= other for other in kept.values()):
            kept[key] = each
    return kept


def _greedy(reveals: Mapping[Key, frozenset[Thing]], wanted: frozenset[Thing]) -> tuple[Key, ...]:
    chosen: list[Key] = []
    while wanted:
        key = max(reveals, key=lambda each: len(reveals[each] & wanted))
        chosen.append(key)
        wanted -= reveals[key]
    return tuple(chosen)
