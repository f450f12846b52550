"""Who lives in a situation, by networkx and the airplane's data alone: nothing of the solver is used.

Engines and pumps turn: only loads can take an instrument's power.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import networkx as nx

from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Drive, LoadDrive, Part, Seat, Sense
from runner.airplane.model.source import Battery
from runner.airplane.model.wiring import Link, LinkKind


@dataclass(frozen=True)
class Reference:
    """One airplane on its batteries alone."""

    airplane: Airplane
    position: str
    pulled: str = ""

    def graph(self) -> "nx.DiGraph[str]":
        """Buses and every way that current may go; relays close as their coils get power."""
        closed: set[str] = set()
        while True:
            graph = self._graph(closed)
            live = self._reached(graph)
            found = {
                link.name
                for link in self.airplane.links.values()
                if link.traits.coil is not None and link.traits.coil.bus in live
            }
            if found <= closed:
                return graph
            closed |= found

    def buses(self) -> set[str]:
        """Those that a battery reaches."""
        return self._reached(self.graph())

    def loads(self) -> set[str]:
        """Those of which one feed has power."""
        live = self.buses()
        return {
            name
            for name, load in self.airplane.loads.items()
            if any(
                feed.bus in live and (feed.breaker is None or feed.breaker != self.pulled)
                for feed in load.feeds
            )
        }

    def parts(self, name: str) -> list[bool]:
        """Of each part of an instrument, whether it works."""
        alive = self.loads()
        return [self._works(part, alive) for part in self.airplane.instruments[name].parts]

    def lives(self, name: str) -> bool | None:
        """Of a load or an instrument; None where it works in part."""
        if name in self.airplane.instruments:
            parts = self.parts(name)
            return all(parts) if all(parts) or not any(parts) else None
        return name in self.loads()

    def seats(self, sense: str) -> set[Seat]:
        """From which a sense can be had."""
        alive = self.loads()
        found = {
            instrument.seat
            for instrument in self.airplane.instruments.values()
            for part in instrument.parts
            if Sense(sense) in part.senses and self._works(part, alive)
        }
        return {Seat.LEFT, Seat.RIGHT} if Seat.CENTRE in found else found

    def outlives(self, seat: Seat, sense: Sense) -> bool:
        """Whether a seat has the sense by something that needs no load."""
        return any(
            sense in part.senses and not isinstance(self._drive(part), LoadDrive | None)
            for instrument in self.airplane.instruments.values()
            if instrument.seat in (seat, Seat.CENTRE)
            for part in instrument.parts
        )

    def _works(self, part: Part, alive: set[str]) -> bool:
        return any(self._gives(drive, alive) for drive in part.drives)

    def _drive(self, part: Part) -> Drive | None:
        alive = self.loads()
        return next((drive for drive in part.drives if self._gives(drive, alive)), None)

    def _gives(self, drive: Drive, alive: set[str]) -> bool:
        return not isinstance(drive, LoadDrive) or set(drive.loads) <= alive

    def _reached(self, graph: "nx.DiGraph[str]") -> set[str]:
        homes = [each.bus for each in self.airplane.sources.values() if isinstance(each, Battery)]
        return {bus for home in homes for bus in ({home} | nx.descendants(graph, home))}

    def _graph(self, closed: set[str]) -> "nx.DiGraph[str]":
        graph = nx.DiGraph()
        graph.add_nodes_from(self.airplane.buses)
        for link in self.airplane.links.values():
            if link.traits.coil is None or link.name in closed:
                graph.add_edges_from((*edge, {"link": link.name}) for edge in self._edges(link))
        return graph

    def _edges(self, link: Link) -> Iterator[tuple[str, str]]:
        gates = all(gate.switch.normal in gate.closed_in for gate in link.traits.gates)
        is_out = bool(self.pulled) and link.breaker == self.pulled
        if self.position in link.closed_in and gates and not is_out:
            yield link.start, link.end
            if link.kind not in (LinkKind.DIODE, LinkKind.INVERTER):
                yield link.end, link.start
