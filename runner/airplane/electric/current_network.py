"""The airplane solved for volts: who is alive by the wiring, then what each bus has, then who drops out.

Loads, relays and inverters under their drop-out volts let go one at a time, the deepest load first, and
stay off: what would chatter in the airplane is told as lost. Loads draw their steady current, or their
start surge.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from runner.airplane.electric.alternating import alternating_buses
from runner.airplane.electric.assembly import Assembly, Fittings
from runner.airplane.electric.conductor import Supply, conductor, supply
from runner.airplane.electric.flow import BatteryState, Flow
from runner.airplane.electric.tally import LoadTally
from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation
from runner.airplane.model.wiring import Load, Phase


@dataclass(slots=True)
class _Losses:
    """What has let go so far in one solution, with the volts that it had."""

    loads: dict[str, float] = field(default_factory=dict)
    links: dict[str, float] = field(default_factory=dict)


class Electric:
    """An airplane made ready for many situations, as `Network` is, with volts.

    `phase` counts each load at its duty in that phase; `surge` counts the start currents of all loads at
    once.
    """

    def __init__(self, airplane: Airplane, phase: Phase | None = None, *, surge: bool = False) -> None:
        self._airplane = airplane
        self._network = LifeNetwork(airplane, phase)
        self.amps: Mapping[str, float] = {
            load.name: _amps(load, phase, surge=surge) for load in airplane.loads.values()
        }
        """What each load draws at rated volts."""
        self._tally = LoadTally(airplane, self.amps)
        self._fittings = Fittings(
            airplane,
            {name: conductor(airplane, link) for name, link in airplane.links.items()},
            {name: supply(source, None) for name, source in airplane.sources.items()},
            alternating_buses(airplane.links),
        )
        self._coils = {
            name: link.traits.coil for name, link in airplane.links.items() if link.traits.coil is not None
        }

    def solve(self, situation: Situation, states: Mapping[str, BatteryState] | None = None) -> Flow:
        """Volts and amperes in the situation, with the batteries as planned unless their states are given."""
        losses = _Losses()
        supplies = dict(self._fittings.supplies)
        for name, state in (states or {}).items():
            supplies[name] = supply(self._airplane.sources[name], state)
        while True:
            now = replace(situation, stuck_open=situation.stuck_open | losses.links.keys())
            flow = self._flow(now if losses.links else situation, losses, supplies)
            if not self._lets_go(situation, flow, losses):
                return flow

    def _flow(self, situation: Situation, losses: _Losses, supplies: Mapping[str, Supply]) -> Flow:
        life = self._network.solve(situation)
        fed = self._network.fed_coils(situation)
        links = [
            link
            for link in self._network.closed_links(situation, fed)
            if link.start in life.carriers and link.end in life.carriers
        ]
        taken = self._tally.taken(situation, life.alive, life.carriers, losses.loads)
        for name in fed & {link.name for link in links}:
            taken[self._coils[name].bus][0] += self._coils[name].amps
        assembly = Assembly(self._fittings, supplies, situation, life, links, taken)
        return assembly.flow(losses.loads, losses.links)

    def _lets_go(self, situation: Situation, flow: Flow, losses: _Losses) -> bool:
        """Add what is furthest under its drop-out volts to the losses; False when nothing is."""
        for name, bus, floor in self._held(situation, flow):
            if flow.volts[bus] < floor:
                losses.links[name] = flow.volts[bus]
                return True
        direct = {bus: flow.volts[bus] for bus in flow.carriers if bus not in self._fittings.alternating}
        found = self._tally.under_floor(situation, flow.alive, direct, losses.loads)
        if found is not None:
            losses.loads[found[0]] = found[1]
        return found is not None

    def _held(self, situation: Situation, flow: Flow) -> Iterator[tuple[str, str, float]]:
        """Relays and inverters at work: name, the bus that they need, and their drop-out volts."""
        for name, coil in self._coils.items():
            if name in flow.link_amps and name not in situation.stuck_closed:
                yield name, coil.bus, coil.drop_out_volts
        for name in flow.inverter_watts:
            link = self._airplane.links[name]
            if link.traits.output is not None:
                yield name, link.start, link.traits.output.drop_out_volts


def _amps(load: Load, phase: Phase | None, *, surge: bool) -> float:
    duty = load.duty[phase] if phase else 1.0
    if surge:
        return load.surge_amps if duty > 0 else 0.0
    return load.amps * duty
