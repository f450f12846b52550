"""Faults: every single failure that an airplane file can be asked about, and the airplane that has it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final, TypeVar

from runner.airplane.electric.trait import PLAIN_LINK
from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation, on_battery
from runner.airplane.model.wiring import Feed, LinkKind, Phase

Part = TypeVar("Part")


class Kind(StrEnum):
    """What can be wrong."""

    WELDED = "welded"
    NOT_CLOSING = "does not close"
    BROKEN = "open"
    """A diode, a limiter, a wire or an inverter through which nothing passes any more."""
    SHORTED = "shorted"
    """A diode that passes current both ways."""
    BREAKER_OUT = "breaker out"
    DEAD = "dead"
    """A load that has failed."""
    BULB_OUT = "bulb out"
    SLOW = "slow"
    """A gyro that needs longer than its limit."""
    WEAK_CELL = "weak cell"
    """A battery with one cell shorted."""
    MISWIRED = "wired to the reserve"
    """A load that the reserve should shed."""
    STUCK = "stuck"
    """A voltmeter that goes on showing what it showed at rest."""


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One single failure."""

    kind: Kind
    name: str
    """The link, breaker, load, gyro, battery or meter."""
    part: str = ""
    """The bulb."""

    def __str__(self) -> str:
        where = f"{self.name}, {self.part}" if self.part else self.name
        return f"{where}: {self.kind}"


@dataclass(frozen=True, slots=True)
class Ailing:
    """An airplane with faults; what no wiring shows is listed beside it."""

    airplane: Airplane
    stuck_open: frozenset[str] = frozenset()
    stuck_closed: frozenset[str] = frozenset()
    pulled: frozenset[str] = frozenset()
    failed: frozenset[str] = frozenset()
    bulbs_out: frozenset[tuple[str, str]] = frozenset()
    slow: frozenset[str] = frozenset()
    """Gyros."""
    is_meter_stuck: bool = False

    def alone(self, position: str) -> Situation:
        """On the battery alone, in a selector position."""
        return self.with_faults(on_battery(self.airplane, position))

    def with_faults(self, situation: Situation) -> Situation:
        """A situation with the faults in it."""
        return replace(
            situation,
            stuck_open=situation.stuck_open | self.stuck_open,
            stuck_closed=situation.stuck_closed | self.stuck_closed,
            pulled=situation.pulled | self.pulled,
            failed=situation.failed | self.failed,
        )


FIELD: Final = {
    Kind.WELDED: "stuck_closed",
    Kind.NOT_CLOSING: "stuck_open",
    Kind.BROKEN: "stuck_open",
    Kind.BREAKER_OUT: "pulled",
    Kind.DEAD: "failed",
    Kind.SLOW: "slow",
}
"""Where an ailing airplane keeps the names of each kind."""


def faults_of(airplane: Airplane) -> tuple[Fault, ...]:
    """Every single failure, in the order of the file."""
    return (
        *_of_links(airplane),
        *(Fault(Kind.BREAKER_OUT, name) for name in airplane.breakers),
        *(Fault(Kind.DEAD, name) for name in airplane.loads),
        *(Fault(Kind.BULB_OUT, lamp.name, bulb) for lamp in airplane.lamps.values() for bulb in lamp.bulbs),
        *(Fault(Kind.SLOW, name) for name in airplane.gyros),
        *(Fault(Kind.WEAK_CELL, battery.name) for battery in airplane.batteries),
        *(Fault(Kind.MISWIRED, name) for name in _shed(airplane)),
        Fault(Kind.STUCK, airplane.voltmeter.name),
    )


def _of_links(airplane: Airplane) -> Iterator[Fault]:
    for link in airplane.links.values():
        if link.kind is LinkKind.RELAY:
            yield Fault(Kind.WELDED, link.name)
            yield Fault(Kind.NOT_CLOSING, link.name)
        else:
            yield Fault(Kind.BROKEN, link.name)
        if link.kind is LinkKind.DIODE:
            yield Fault(Kind.SHORTED, link.name)


def reserve_bus(airplane: Airplane) -> str:
    """The bus on which most loads hang that the reserve position wakes and must keep."""
    network, selector = LifeNetwork(airplane), airplane.selector
    woken = (
        network.solve(on_battery(airplane, selector.reserve)).alive
        - network.solve(on_battery(airplane, selector.parked)).alive
    )
    counts: dict[str, int] = {}
    for name in woken:
        bus = airplane.loads[name].feeds[0].bus
        counts[bus] = counts.get(bus, 0) + 1
    return max(airplane.buses, key=lambda bus: counts.get(bus, 0))


def _shed(airplane: Airplane) -> Iterator[str]:
    """Loads that a check may run and that the reserve position sheds."""
    alive = LifeNetwork(airplane).solve(on_battery(airplane, airplane.selector.reserve)).alive
    for load in airplane.loads.values():
        if load.name not in alive and load.duty[Phase.CHECK] > 0 and len(load.feeds) == 1:
            yield load.name


def ailing(airplane: Airplane, *faults: Fault) -> Ailing:
    """The airplane with these faults in it."""
    found = Ailing(airplane)
    for fault in faults:
        found = _worse(found, fault)
    return found


def _worse(found: Ailing, fault: Fault) -> Ailing:
    match fault.kind:
        case Kind.SHORTED | Kind.MISWIRED | Kind.WEAK_CELL:
            return replace(found, airplane=_rebuilt(found.airplane, fault))
        case Kind.BULB_OUT:
            return replace(found, bulbs_out=found.bulbs_out | {(fault.name, fault.part)})
        case Kind.STUCK:
            return replace(found, is_meter_stuck=True)
        case _:
            field = FIELD[fault.kind]
            return replace(found, **{field: getattr(found, field) | {fault.name}})


def _rebuilt(airplane: Airplane, fault: Fault) -> Airplane:
    """The airplane with another battery, link or load."""
    if fault.kind is Kind.SHORTED:
        link = replace(airplane.links[fault.name], kind=LinkKind.WIRE, traits=PLAIN_LINK)
        return replace(airplane, links=_with(airplane.links, fault.name, link))
    if fault.kind is Kind.MISWIRED:
        load = airplane.loads[fault.name]
        moved = replace(load, feeds=(Feed(reserve_bus(airplane), load.feeds[0].breaker),))
        return replace(airplane, loads=_with(airplane.loads, fault.name, moved))
    battery = next(each for each in airplane.batteries if each.name == fault.name)
    share = (battery.cells - 1) / battery.cells
    weak = replace(battery, cells=battery.cells - 1, end_volts=battery.end_volts * share)
    return replace(airplane, sources=_with(airplane.sources, fault.name, weak))


def _with(old: Mapping[str, Part], key: str, value: Part) -> dict[str, Part]:
    return {**old, key: value}
