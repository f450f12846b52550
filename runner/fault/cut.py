"""Cut sets: the fewest failures that together take a load's power, by the paths that its current has.

A cut breaks every path, so the cuts are the minimal hitting sets of the paths (Berge's algorithm, as MOCUS
has it the other way about).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from runner.airplane.life.life_network import conducts
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation

Cut = frozenset[str]
"""Names of sources, links, breakers and the load itself."""


def cut_sets(airplane: Airplane, situation: Situation, load: str, most: int = 3) -> tuple[Cut, ...]:
    """Minimal sets of at most so many failures that leave the load dead, the smallest first."""
    cuts: set[Cut] = {frozenset()}
    for path in _paths(airplane, situation, load):
        grown = {cut | {name} for cut in cuts if not cut & path for name in path}
        cuts = _minimal({cut for cut in cuts if cut & path} | {cut for cut in grown if len(cut) <= most})
    return tuple(sorted(cuts - {frozenset()}, key=lambda cut: (len(cut), sorted(cut))))


def _paths(airplane: Airplane, situation: Situation, load: str) -> Iterator[Cut]:
    """What every way from a source to the load needs to work."""
    wanted = airplane.loads[load]
    for feed in wanted.feeds:
        if feed.breaker in situation.pulled or load in situation.failed:
            continue
        own = {load} | ({feed.breaker} if feed.breaker is not None else set())
        for way in _ways_back(airplane, situation, feed.bus, frozenset({feed.bus})):
            yield frozenset(own) | way


def _ways_back(airplane: Airplane, situation: Situation, bus: str, seen: frozenset[str]) -> Iterator[Cut]:
    """Sources, links and their breakers on every simple way from a source to a bus."""
    if bus in situation.shorted:
        return
    for source in airplane.sources.values():
        if source.bus == bus and source.name not in situation.lost:
            yield frozenset({source.name})
    for link in airplane.links.values():
        if not conducts(link, situation):
            continue
        before = _before(link.start, link.end, bus, is_one_way=link.is_one_way)
        if before is not None and before not in seen:
            needs = {link.name} | ({link.breaker} if link.breaker is not None else set())
            for way in _ways_back(airplane, situation, before, seen | {before}):
                yield frozenset(needs) | way


def _before(start: str, end: str, bus: str, *, is_one_way: bool) -> str | None:
    if end == bus:
        return start
    return end if start == bus and not is_one_way else None


def _minimal(cuts: Iterable[Cut]) -> set[Cut]:
    kept: list[Cut] = []
    for cut in sorted(cuts, key=len):
        if not any(each <= cut for each in kept):
            kept.append(cut)
    return set(kept)
