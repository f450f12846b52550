"""An airplane written out for ngspice, element by element, and ngspice's answer read back.

Nothing here comes from the solver: life is networkx's, every load is an element of its own, diodes are
SPICE's, and an inverter is two coupled sources. What a battery or a generator does is taken from its
definition.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import networkx as nx
import pytest

from runner.airplane.electric.flow import Flow
from runner.airplane.electric.trait import Draw
from runner.airplane.minutes.cell import ohms, open_volts
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation
from runner.airplane.model.source import Battery, Generator, Source
from runner.airplane.model.wiring import Link, LinkKind, Load

needs_ngspice = pytest.mark.skipif(
    shutil.which("ngspice") is None, reason="needs Debian's ngspice, installed by .ci/run"
)

USUAL_MILLIOHMS = {LinkKind.DIODE: 2.0, LinkKind.INVERTER: 5.0}
OPTIONS = ".options reltol=1e-7 abstol=1e-9 vntol=1e-7 gmin=1e-12 itl1=2000 itl2=2000"
OPERATING_POINT = "op"
SETTLING = "tran 0.1 60 uic"
"""Where a kink keeps ngspice from an operating point, every node gets a capacitor, and time to settle."""


class Deck:
    """One situation of an airplane as a netlist, without what has let go in the flow.

    ngspice begins its search at the flow's volts, rounded to hundredths, and ends where its own equations
    hold: constant power may have two answers, and this asks whether ours is one.
    """

    def __init__(self, airplane: Airplane, situation: Situation, flow: Flow) -> None:
        self.airplane, self.situation, self.lost, self.near = airplane, situation, flow.lost, flow.volts
        open_links = (
            set(flow.let_go)
            | {link.name for link in airplane.links.values() if link.traits.coil is not None}
            - situation.stuck_closed
        )
        while True:
            self._wire(open_links)
            fed = {name for name in open_links - flow.let_go.keys() if self._coil_bus(name) in self.live}
            if not fed:
                return
            open_links -= fed

    def _coil_bus(self, name: str) -> str:
        coil = self.airplane.links[name].traits.coil
        return "" if coil is None else coil.bus

    def _wire(self, open_links: set[str]) -> None:
        """Sources, links and buses that live while these links are open, by networkx."""
        airplane, situation = self.airplane, self.situation
        graph = nx.DiGraph()
        graph.add_nodes_from(bus for bus in airplane.buses if bus not in situation.shorted)
        self.links = [link for link in airplane.links.values() if self._is_closed(link, open_links)]
        for link in self.links:
            graph.add_edge(link.start, link.end)
            if link.kind not in (LinkKind.DIODE, LinkKind.INVERTER):
                graph.add_edge(link.end, link.start)
        self.sources = [
            source
            for source in airplane.sources.values()
            if source.name not in situation.lost and source.bus in graph
        ]
        self.live = {
            bus for source in self.sources for bus in {source.bus} | nx.descendants(graph, source.bus)
        }
        self.links = [link for link in self.links if link.start in self.live and link.end in self.live]

    def _is_closed(self, link: Link, open_links: set[str]) -> bool:
        situation = self.situation
        gates = all(
            (gate.switch.parked if situation.is_parked else gate.switch.normal) in gate.closed_in
            for gate in link.traits.gates
        )
        is_told = (situation.position in link.closed_in and gates) or link.name in situation.stuck_closed
        is_broken = link.name in situation.stuck_open | open_links or link.breaker in situation.pulled
        return is_told and not is_broken and not situation.shorted & {link.start, link.end}

    def node(self, bus: str) -> str:
        """A bus's name in the netlist."""
        return f"n{self.airplane.buses.index(bus)}"

    def text(self, analysis: str) -> str:
        """The netlist, with one line for each value to print."""
        lines = ["airplane", OPTIONS]
        lines += [line for number, each in enumerate(self.sources) for line in self._source(number, each)]
        lines += [line for number, each in enumerate(self.links) for line in self._link(number, each)]
        lines += [
            line
            for number, load in enumerate(self.airplane.loads.values())
            for line in self._load(number, load)
        ]
        begin = {self.node(bus): self.near[bus] for bus in self.live}
        begin |= {f"s{number}": self.near[each.bus] for number, each in enumerate(self.sources)}
        begin |= {f"l{number}": self.near[each.start] for number, each in enumerate(self.links)}
        near = " ".join(f"v({name})={volts:.2f}" for name, volts in begin.items())
        for number, bus in enumerate(sorted(self.live)):
            lines.append(f"Rleak{number} {self.node(bus)} 0 1e6")
            if analysis != OPERATING_POINT:
                lines.append(f"Cnode{number} {self.node(bus)} 0 1e-5 ic={self.near[bus]:.2f}")
        control = [".control", "set numdgt=9", analysis]
        for each in self._wanted():
            control += [f"let found = {each}[length({each})-1]", "print found"]
        return "\n".join([*lines, f".nodeset {near}", *control, "quit", ".endc", ".end", ""])

    def _source(self, number: int, source: Source) -> Iterator[str]:
        node, inner = self.node(source.bus), f"s{number}"
        yield f"Vs{number} {inner} {node} 0"
        yield f"Bs{number} 0 {inner} I={_given(source, f'v({inner})')}"

    def _link(self, number: int, link: Link) -> Iterator[str]:
        start, end, mid = self.node(link.start), self.node(link.end), f"l{number}"
        output = link.traits.output
        if output is not None:
            volts = f"max(v({mid}),{self.airplane.rated_volts / 2})"
            low = f"min(1,v({mid})/{self.airplane.rated_volts / 2})"
            yield f"Vac{number} {end} 0 {output.volts}"
            yield f"Vl{number} {start} {mid} 0"
            power = f"(-i(Vac{number})*{output.volts}/{output.efficiency}+{output.idle_watts})"
            yield f"Bl{number} {mid} 0 I={power}/{volts}*{low}"
            return
        coil = link.traits.coil
        if coil is not None:
            held = self.node(coil.bus)
            yield f"Bc{number} {held} 0 I={coil.amps}*min(1,v({held})/{self.airplane.rated_volts / 2})"
        own = link.traits.milliohms
        milliohms = USUAL_MILLIOHMS.get(link.kind, 1.0) if own is None else own
        resistance = milliohms / 1000 + (0.1 / self.airplane.breakers[link.breaker] if link.breaker else 0)
        yield f"Vl{number} {start} {mid} 0"
        if link.kind not in (LinkKind.DIODE, LinkKind.INVERTER):
            yield f"Rl{number} {mid} {end} {resistance}"
            return
        usual = 0.8 if link.kind is LinkKind.DIODE else 0.0
        drop = usual if link.traits.drop_volts is None else link.traits.drop_volts
        yield f"al{number} {mid} {end} diode{number}"
        yield f".model diode{number} sidiode(ron={resistance} roff=1e12 vfwd={drop})"

    def _load(self, number: int, load: Load) -> Iterator[str]:
        if load.name in self.lost or load.name in self.situation.failed:
            return
        bus = next(
            (
                feed.bus
                for feed in load.feeds
                if feed.bus in self.live and feed.breaker not in self.situation.pulled
            ),
            None,
        )
        if bus is None:
            return
        node, rated = self.node(bus), self.airplane.rated_volts
        output = [link.traits.output for link in self.links if link.traits.output and link.end == bus]
        if output:
            yield f"Bd{number} {node} 0 I={load.amps * rated / output[0].volts}"
            return
        match load.traits.draw:
            case Draw.CURRENT:
                yield f"Bd{number} {node} 0 I={load.amps}*min(1,v({node})/{rated / 2})"
            case Draw.POWER:
                held = f"max(v({node}),{rated / 2})"
                yield f"Bd{number} {node} 0 I={load.amps * rated}/{held}*min(1,v({node})/{rated / 2})"
            case Draw.RESISTANCE:
                yield f"Rd{number} {node} 0 {rated / load.amps if load.amps else 1e12}"

    def solve(self, folder: Path) -> tuple[dict[str, float], dict[str, float], dict[str, float]]:
        """Volts of live buses, amperes of sources and of links, as ngspice finds them."""
        values = self._run(folder, OPERATING_POINT) or self._run(folder, SETTLING)
        assert len(values) == len(self._wanted()), f"ngspice finds nothing:\n{self.text(SETTLING)}"
        found = dict(zip(self._wanted(), values, strict=True))
        return (
            {bus: found[f"v({self.node(bus)})"] for bus in self.live},
            {source.name: found[f"i(vs{number})"] for number, source in enumerate(self.sources)},
            {link.name: found[f"i(vl{number})"] for number, link in enumerate(self.links)},
        )

    def _wanted(self) -> list[str]:
        return [
            *(f"v({self.node(bus)})" for bus in sorted(self.live)),
            *(f"i(vs{number})" for number in range(len(self.sources))),
            *(f"i(vl{number})" for number in range(len(self.links))),
        ]

    def _run(self, folder: Path, analysis: str) -> list[float]:
        path = folder / "deck.cir"
        path.write_text(self.text(analysis), encoding="utf-8")
        done = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True, check=False)
        return [float(value) for value in re.findall(r"^found = (\S+)$", done.stdout, re.MULTILINE)]


def _given(source: Source, volts: str) -> str:
    """Amperes out of a source at its own volts, by its definition."""
    if isinstance(source, Battery):
        charge = source.charge_percent / 100
        emf = open_volts(source, charge)
        resistance = max(1e-4, ohms(source, charge, source.celsius))
        full = source.ampere_hours / 5 if source.charge_amps is None else source.charge_amps
        most = full * min(1.0, (1 - charge) / 0.2)
        taken = f"min(({volts}-{emf})*{max(full / (0.25 * source.cells), 1e-6)},{most})"
        return f"{volts}<{emf} ? ({emf}-{volts})/{resistance} : -{taken}"
    droop = source.droop_percent / 100 if isinstance(source, Generator) else 0.01
    limit = source.amps
    if isinstance(source, Generator) and source.limit_amps is not None:
        limit = source.limit_amps
    return f"max(0,min(({source.volts}-{volts})*{source.amps / (droop * source.volts)},{limit}))"
