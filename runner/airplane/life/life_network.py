"""Which buses and loads are alive, and what current flows where.

A bus is carried by the source of highest voltage that reaches it through closed links; sources of equal
voltage share it equally. Current is booked along the path of fewest links. Charging is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import NOTHING, Situation
from runner.airplane.model.source import nominal_volts
from runner.airplane.model.wiring import Link, Load, Phase

Steps = dict[str, list[tuple[str, str, int]]]
"""From each bus: (next bus, link between them, +1 along the link and -1 against it)."""
Parents = dict[str, tuple[str, str, int]]
"""The way back to a source: from each bus to the bus before it, as a step."""


@dataclass(frozen=True, slots=True)
class Solution:
    """What one situation does to the airplane."""

    alive: frozenset[str]
    """Loads with power."""
    carriers: Mapping[str, tuple[str, ...]]
    """Sources that carry each live bus; a dead bus is not in it."""
    source_amps: Mapping[str, float]
    bus_amps: Mapping[str, float]
    """Through each live bus: to its own loads and onward to other buses."""
    link_amps: Mapping[str, float]
    """Through each live link, positive from its first bus to its second."""


class LifeNetwork:
    """An airplane made ready for many situations; `phase` counts each load at its duty in that phase."""

    def __init__(self, airplane: Airplane, phase: Phase | None = None) -> None:
        self._amps = {
            load.name: load.amps * (load.duty[phase] if phase else 1.0) for load in airplane.loads.values()
        }
        self._links = dict(airplane.links)
        self._steps = {position: _steps(self._closed(position)) for position in airplane.selector.positions}
        ranked = sorted(airplane.sources.values(), key=nominal_volts, reverse=True)
        self._sources = tuple((source.name, source.bus, nominal_volts(source)) for source in ranked)
        self._coils = {
            link.name: link.traits.coil.bus for link in self._links.values() if link.traits.coil is not None
        }
        self._has_gates = any(link.traits.gates for link in self._links.values())
        self._link_breakers = frozenset(link.breaker for link in self._links.values() if link.breaker)
        self._single, self._several = _by_bus(airplane.loads.values())
        self._bus_amps = {bus: sum(self._amps[name] for name in names) for bus, names in self._single.items()}
        self._home = {name: bus for bus, names in self._single.items() for name in names}
        self._behind = _behind_breakers(airplane.loads.values())

    def solve(self, situation: Situation) -> Solution:
        """Which loads are alive in the situation, and the current in every source, bus and link."""
        reached = self._reach(situation)
        draws, alive = self._draws(situation, reached)
        source_amps = dict.fromkeys((name for name, _, _ in self._sources), 0.0)
        link_amps: dict[str, float] = {}
        for bus, amps in draws.items():
            carriers = reached[bus]
            share = amps / len(carriers)
            for source, parents in carriers.items():
                source_amps[source] += share
                _book(bus, share, parents, link_amps)
        bus_amps = dict(draws)
        for name, amps in link_amps.items():
            bus_amps[self._upstream(name, amps)] += abs(amps)
        carried = {bus: tuple(carriers) for bus, carriers in reached.items()}
        return Solution(alive, carried, source_amps, bus_amps, link_amps)

    def _upstream(self, name: str, amps: float) -> str:
        """The bus from which a link's current comes."""
        link = self._links[name]
        return link.start if amps >= 0 else link.end

    def _reach(self, situation: Situation) -> dict[str, dict[str, Parents]]:
        """For each live bus its carriers, each with the way back to it."""
        reached = self._spread_all(situation, self._steps_in(situation, frozenset()))
        fed: frozenset[str] = frozenset()
        while self._coils:
            now = frozenset(name for name, bus in self._coils.items() if bus in reached)
            if now == fed:
                break
            fed, reached = now, self._spread_all(situation, self._steps_in(situation, now))
        return reached

    def fed_coils(self, situation: Situation) -> frozenset[str]:
        """Relays whose coil has power, each bus counted once it is alive without them or through them."""
        if not self._coils:
            return NOTHING
        reached = self._reach(situation)
        return frozenset(name for name, bus in self._coils.items() if bus in reached)

    def _spread_all(self, situation: Situation, steps: Steps) -> dict[str, dict[str, Parents]]:
        reached: dict[str, dict[str, Parents]] = {}
        volts_on: dict[str, float] = {}
        for name, start, volts in self._sources:
            if name in situation.lost or start in situation.shorted:
                continue
            parents = _spread(start, steps, situation.shorted)
            for bus in parents:
                if volts_on.setdefault(bus, volts) == volts:
                    reached.setdefault(bus, {})[name] = parents
        return reached

    def _steps_in(self, situation: Situation, fed: frozenset[str]) -> Steps:
        """The ways that current may go; relays with a coil only while it is fed."""
        is_plain = (
            not situation.stuck_open
            and not situation.stuck_closed
            and not self._coils
            and not self._has_gates
            and self._link_breakers.isdisjoint(situation.pulled)
        )
        if is_plain:
            return self._steps[situation.position]
        return _steps(self.closed_links(situation, fed))

    def closed_links(self, situation: Situation, fed: frozenset[str]) -> Iterator[Link]:
        """Links through which current may pass when these relays' coils are fed."""
        for link in self._links.values():
            is_held = link.name not in self._coils or link.name in fed
            if conducts(link, situation) and (is_held or link.name in situation.stuck_closed):
                yield link

    def _closed(self, position: str) -> Iterable[Link]:
        return (link for link in self._links.values() if position in link.closed_in)

    def _draws(
        self, situation: Situation, reached: Mapping[str, object]
    ) -> tuple[dict[str, float], frozenset[str]]:
        """Amperes that live loads take from each live bus, and the names of those loads."""
        draws = {bus: self._bus_amps.get(bus, 0.0) for bus in reached}
        alive = NOTHING.union(*(self._single.get(bus, NOTHING) for bus in reached))
        out = alive & self._out(situation)
        for name in out:
            draws[self._home[name]] -= self._amps[name]
        alive -= out
        for load in self._several:
            feed = live_feed(load, situation, reached)
            if feed is not None:
                draws[feed] += self._amps[load.name]
                alive |= {load.name}
        return draws, alive

    def _out(self, situation: Situation) -> frozenset[str]:
        """Single-feed loads that are off by themselves: failed, or behind a breaker that is out."""
        return situation.failed.union(*(self._behind.get(breaker, ()) for breaker in situation.pulled))


def conducts(link: Link, situation: Situation) -> bool:
    """Whether selector, switches and breaker let current pass; a relay's coil must be fed besides."""
    if link.name in situation.stuck_open or link.breaker in situation.pulled:
        return False
    if link.name in situation.stuck_closed:
        return True
    return situation.position in link.closed_in and all(
        situation.stands(gate.switch) in gate.closed_in for gate in link.traits.gates
    )


def live_feed(load: Load, situation: Situation, live: Iterable[str]) -> str | None:
    """The bus that feeds the load: its first feed with power; None when there is none."""
    if load.name in situation.failed:
        return None
    for feed in load.feeds:
        if feed.bus in live and feed.breaker not in situation.pulled:
            return feed.bus
    return None


def _steps(links: Iterable[Link]) -> Steps:
    steps: Steps = {}
    for link in links:
        steps.setdefault(link.start, []).append((link.end, link.name, 1))
        if not link.is_one_way:
            steps.setdefault(link.end, []).append((link.start, link.name, -1))
    return steps


def _spread(start: str, steps: Steps, shorted: frozenset[str]) -> Parents:
    """Every bus that current from `start` reaches, with the step before it; breadth first."""
    parents = {start: ("", "", 0)}
    queue = [start]
    for bus in queue:
        for after, link, sign in steps.get(bus, ()):
            if after not in parents and after not in shorted:
                parents[after] = (bus, link, sign)
                queue.append(after)
    return parents


def _book(bus: str, amps: float, parents: Parents, link_amps: dict[str, float]) -> None:
    """Add a bus's share of current to every link on its way from the source."""
    while True:
        bus, link, sign = parents[bus]
        if not link:
            return
        link_amps[link] = link_amps.get(link, 0.0) + sign * amps


def _by_bus(loads: Iterable[Load]) -> tuple[dict[str, frozenset[str]], tuple[Load, ...]]:
    """Loads with a single feed grouped by bus, and those with several."""
    single: dict[str, set[str]] = {}
    several = []
    for load in loads:
        if len(load.feeds) == 1:
            single.setdefault(load.feeds[0].bus, set()).add(load.name)
        else:
            several.append(load)
    return {bus: frozenset(names) for bus, names in single.items()}, tuple(several)


def _behind_breakers(loads: Iterable[Load]) -> dict[str, tuple[str, ...]]:
    """Single-feed loads behind each breaker."""
    behind: dict[str, list[str]] = {}
    for load in loads:
        if len(load.feeds) == 1 and load.feeds[0].breaker is not None:
            behind.setdefault(load.feeds[0].breaker, []).append(load.name)
    return {breaker: tuple(names) for breaker, names in behind.items()}
