"""Why a load is alive or dead: the path of its current, or the first break on the least broken way to it."""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from dataclasses import dataclass

from runner.airplane.life.life_network import LifeNetwork, conducts
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation
from runner.airplane.model.wiring import Link, LinkKind, Load


@dataclass(frozen=True, slots=True)
class Break:
    """One thing that keeps current from a load."""

    name: str
    """The source, link, breaker, bus or load concerned."""
    cause: str
    """As a sentence without its full stop."""


@dataclass(frozen=True, slots=True)
class CurrentPath:
    """The way from a source to a load."""

    steps: tuple[str, ...]
    """Source, buses and links in turn, then the breaker if there is one, then the load."""
    breaks: tuple[Break, ...]
    """From the source on; empty when the load is alive."""

    def __str__(self) -> str:
        if not self.breaks:
            return " > ".join(self.steps)
        return self.breaks[0].cause


@dataclass(frozen=True, slots=True, order=True)
class _Way:
    """A partial way: compared by how much is broken on it, then by its length."""

    harm: int
    length: int
    steps: tuple[str, ...]
    breaks: tuple[tuple[str, str], ...]


def path_to(airplane: Airplane, situation: Situation, load: Load) -> CurrentPath:
    """The load's path in the situation: unbroken when it is alive, else the one with the fewest breaks.

    A lost source counts for more than an open link: what selector and breakers can mend comes first.
    """
    ways = _ways_to_buses(airplane, situation)
    ends = [way for feed in load.feeds for way in _ending(ways, situation, load, feed.bus, feed.breaker)]
    if not ends:
        lonely = f"no source of this airplane reaches {load.feeds[0].bus}"
        return CurrentPath((load.feeds[0].bus, load.name), (Break(load.feeds[0].bus, lonely),))
    best = min(ends)
    return CurrentPath(best.steps, tuple(Break(name, cause) for name, cause in best.breaks))


def _ending(
    ways: dict[str, _Way], situation: Situation, load: Load, bus: str, breaker: str | None
) -> Iterator[_Way]:
    if bus not in ways:
        return
    way = ways[bus]
    if breaker is not None:
        is_out = breaker in situation.pulled
        way = _onward(way, f"breaker {breaker}", f'breaker "{breaker}" is out' if is_out else "")
    has_failed = load.name in situation.failed
    yield _onward(way, load.name, f"{load.name} has failed" if has_failed else "")


def _ways_to_buses(airplane: Airplane, situation: Situation) -> dict[str, _Way]:
    """The least broken way from any source to each bus, by Dijkstra's algorithm."""
    queue: list[tuple[_Way, str]] = []
    for source in airplane.sources.values():
        cause = f"{source.name} is lost" if source.name in situation.lost else ""
        start = _Way(3 if cause else 0, 1, (source.name,), ((source.name, cause),) if cause else ())
        heapq.heappush(queue, (_into(start, source.bus, situation), source.bus))
    fed = LifeNetwork(airplane).fed_coils(situation)
    ways: dict[str, _Way] = {}
    while queue:
        way, bus = heapq.heappop(queue)
        if bus in ways:
            continue
        ways[bus] = way
        for link, after in _links_from(airplane, bus):
            if after not in ways:
                over = _onward(way, link.name, _link_cause(link, situation, fed))
                heapq.heappush(queue, (_into(over, after, situation), after))
    return ways


def _links_from(airplane: Airplane, bus: str) -> Iterator[tuple[Link, str]]:
    for link in airplane.links.values():
        if link.start == bus:
            yield link, link.end
        elif link.end == bus and not link.is_one_way:
            yield link, link.start


def _into(way: _Way, bus: str, situation: Situation) -> _Way:
    return _onward(way, bus, f"{bus} is shorted" if bus in situation.shorted else "")


def _onward(way: _Way, name: str, cause: str) -> _Way:
    breaks = (*way.breaks, (name, cause)) if cause else way.breaks
    return _Way(way.harm + (2 if cause else 0), way.length + 1, (*way.steps, name), breaks)


def _link_cause(link: Link, situation: Situation, fed: frozenset[str]) -> str:
    if conducts(link, situation):
        coil = link.traits.coil
        if coil is None or link.name in fed or link.name in situation.stuck_closed:
            return ""
        return f"{link.name} is open: its coil has no power from the {coil.bus}"
    if link.breaker in situation.pulled:
        return f'breaker "{link.breaker}" of the {link.name} is out'
    if link.name in situation.stuck_open:
        return f"{link.name} is stuck open" if link.kind is LinkKind.RELAY else f"{link.name} is broken"
    if situation.position not in link.closed_in:
        return f'{link.name} is open in "{situation.position}"'
    gates = (gate.switch for gate in link.traits.gates if situation.stands(gate.switch) not in gate.closed_in)
    return " and ".join(
        f'{link.name} is open: {switch.name} stands at "{situation.stands(switch)}"' for switch in gates
    )
