"""Assembly: one situation of an airplane as a circuit, and the circuit's volts as the airplane's flow."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import inf
from typing import Final

import numpy as np

from runner.airplane.electric.circuit import LEAST_SIEMENS, Circuit, Numbers
from runner.airplane.electric.conductor import Conductor, Supply
from runner.airplane.electric.flow import Flow
from runner.airplane.electric.newton import node_volts
from runner.airplane.electric.tally import DRAWS, Taken
from runner.airplane.electric.trait import Draw
from runner.airplane.life.life_network import Solution
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation
from runner.airplane.model.wiring import Link

KNEE_SHARE: Final = 0.5
"""Of rated volts, under which constant current and power become a resistance; ours."""
LEAST_AMPS: Final = 1e-3
"""A source that gives less does not carry a bus."""
CURRENT, POWER, RESISTANCE = (DRAWS.index(each) for each in (Draw.CURRENT, Draw.POWER, Draw.RESISTANCE))


@dataclass(frozen=True, slots=True)
class Fittings:
    """What of an airplane is the same in every situation."""

    airplane: Airplane
    conductors: Mapping[str, Conductor]
    supplies: Mapping[str, Supply]
    """With the batteries as the file plans with them."""
    alternating: frozenset[str]


@dataclass(frozen=True, slots=True)
class Assembly:
    """Live buses, closed links between them, and what live loads take."""

    fittings: Fittings
    supplies: Mapping[str, Supply]
    situation: Situation
    life: Solution
    links: list[Link]
    taken: Mapping[str, Taken]

    def flow(self, lost: Mapping[str, float], let_go: Mapping[str, float]) -> Flow:
        """Solve it without loads that dropped out (`lost`) and links that `let_go`, each with its volts."""
        airplane, alternating = self.fittings.airplane, self.fittings.alternating
        nodes = {
            bus: at for at, bus in enumerate(bus for bus in self.life.carriers if bus not in alternating)
        }
        watts, carrier = islands(self.links, self.taken, airplane.rated_volts)
        volts = dict.fromkeys(airplane.buses, 0.0)
        amps = dict.fromkeys(airplane.sources, 0.0)
        link_amps: dict[str, float] = {}
        bus_amps = dict.fromkeys(self.life.carriers, 0.0)
        if nodes:
            sources = [name for name in self.supplies if self._works(name)]
            links = [link for link in self.links if link.start in nodes and link.end in nodes]
            circuit = self._circuit(nodes, sources, links, watts)
            found = node_volts(circuit)
            volts.update(zip(nodes, found.tolist(), strict=True))
            amps.update(zip(sources, circuit.source_amps(found)[0].tolist(), strict=True))
            passed, _ = circuit.conductor_amps(found)
            link_amps.update(zip((link.name for link in links), passed.tolist(), strict=True))
            through = circuit.drain_amps(found)[0] + _onward(circuit, passed)
            bus_amps.update(zip(nodes, through.tolist(), strict=True))
        self._alternate(watts, carrier, volts, link_amps, bus_amps)
        carried = {bus: self._carriers(bus, amps, link_amps) for bus in self.life.carriers}
        alive = self.life.alive - lost.keys() if lost else self.life.alive
        return Flow(alive, carried, amps, bus_amps, link_amps, volts, dict(lost), dict(let_go), watts)

    def _works(self, source: str) -> bool:
        bus = self.fittings.airplane.sources[source].bus
        return source not in self.situation.lost and bus in self.life.carriers

    def _circuit(
        self, nodes: Mapping[str, int], sources: list[str], links: list[Link], watts: Mapping[str, float]
    ) -> Circuit:
        airplane, rated = self.fittings.airplane, self.fittings.airplane.rated_volts
        source_at = np.zeros((len(sources), len(nodes)))
        for row, name in enumerate(sources):
            source_at[row, nodes[airplane.sources[name].bus]] = 1.0
        ends = np.zeros((len(links), len(nodes)))
        for row, link in enumerate(links):
            ends[row, nodes[link.start]] += 1.0
            ends[row, nodes[link.end]] -= 1.0
        emf, giving, limit, taking, most = np.array([_row(self.supplies[name]) for name in sources]).T
        passing = [self.fittings.conductors[link.name] for link in links]
        drains = np.array([self.taken[bus] for bus in nodes])
        power = drains[:, POWER] * rated
        for link, wanted in self._inverters(watts):
            power[nodes[link.start]] += wanted
        return Circuit(
            source_at,
            emf,
            giving,
            limit,
            taking,
            most,
            ends,
            np.array([each.siemens for each in passing]),
            np.array([each.drop for each in passing]),
            np.array([0.0 if each.is_one_way else -inf for each in passing]),
            drains[:, CURRENT],
            power,
            drains[:, RESISTANCE] / rated + LEAST_SIEMENS,
            KNEE_SHARE * rated,
        )

    def _inverters(self, watts: Mapping[str, float]) -> Iterable[tuple[Link, float]]:
        """Live inverters with what they take from direct current, in watts."""
        for name, given in watts.items():
            link = self.fittings.airplane.links[name]
            output = link.traits.output
            if output is not None:
                yield link, given / output.efficiency + output.idle_watts

    def _alternate(
        self,
        watts: Mapping[str, float],
        carrier: Mapping[str, str],
        volts: dict[str, float],
        link_amps: dict[str, float],
        bus_amps: dict[str, float],
    ) -> None:
        """Volts and amperes behind inverters; a bus's amperes are those that its loads' figures are in."""
        for link, wanted in self._inverters(watts):
            have, knee = volts[link.start], KNEE_SHARE * self.fittings.airplane.rated_volts
            link_amps[link.name] = wanted / max(have, knee) * min(1.0, have / knee)
        for bus, name in carrier.items():
            output = self.fittings.airplane.links[name].traits.output
            if output is not None:
                volts[bus] = output.volts
                bus_amps[bus] = sum(self.taken[bus])

    def _carriers(
        self, bus: str, amps: Mapping[str, float], link_amps: Mapping[str, float]
    ) -> tuple[str, ...]:
        """Sources whose current comes to the bus; those that the wiring names where none flows."""
        upstream = [bus]
        for each in upstream:
            for link in self.links:
                passed = link_amps.get(link.name, 0.0)
                before, after = (link.start, link.end) if passed > 0 else (link.end, link.start)
                if abs(passed) > LEAST_AMPS and after == each and before not in upstream:
                    upstream.append(before)
        sources = self.fittings.airplane.sources
        found = tuple(
            name for name, given in amps.items() if given > LEAST_AMPS and sources[name].bus in upstream
        )
        return found or self.life.carriers[bus]


def islands(
    links: Iterable[Link], taken: Mapping[str, Taken], rated_volts: float
) -> tuple[dict[str, float], dict[str, str]]:
    """Watts that each live inverter gives, and the inverter that carries each alternating-current bus.

    The first inverter of the file carries all that it reaches: two are never in parallel.
    """
    known = list(links)
    watts: dict[str, float] = {}
    carrier: dict[str, str] = {}
    for link in known:
        if link.traits.output is not None:
            behind = _behind(link.end, known, carrier)
            carrier |= dict.fromkeys(behind, link.name)
            watts[link.name] = sum(sum(taken[bus]) for bus in behind) * rated_volts
    return watts, carrier


def _behind(start: str, links: list[Link], carried: Mapping[str, str]) -> list[str]:
    """Alternating-current buses joined to `start` that no inverter carries yet."""
    found = [] if start in carried else [start]
    for bus in found:
        for link in links:
            if link.traits.output is None and bus in (link.start, link.end):
                other = link.end if bus == link.start else link.start
                if other not in found and other not in carried:
                    found.append(other)
    return found


def _row(supply: Supply) -> tuple[float, float, float, float, float]:
    return supply.emf, supply.siemens, supply.limit, supply.charge_siemens, supply.charge_limit


def _onward(circuit: Circuit, passed: Numbers) -> Numbers:
    """Amperes that leave each node through conductors."""
    along = circuit.ends * passed[:, None]
    leaving: Numbers = np.maximum(along, 0.0).sum(axis=0)
    return leaving
