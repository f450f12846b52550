"""Random airplanes for the solver: islands, loops, diodes, inverters, batteries, every way to draw."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from random import Random

from runner.airplane.electric.trait import Draw, LinkTraits, LoadTraits, Output
from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation
from runner.airplane.model.source import Battery, Chemistry, Generator, GroundPower, Source
from runner.airplane.model.wiring import Feed, Keep, Link, LinkKind, Load, Phase, Service

TEMPLATE = load_airplane(Path(__file__).parents[3] / "checklists" / "airplanes" / "merlow-ml2.yaml")
KINDS = (LinkKind.RELAY, LinkKind.RELAY, LinkKind.WIRE, LinkKind.LIMITER, LinkKind.DIODE, LinkKind.INVERTER)
CELLS = {Chemistry.LEAD_ACID: 12, Chemistry.NICKEL_CADMIUM: 20, Chemistry.LITHIUM_IRON: 8}


def random_airplane(random: Random) -> Airplane:
    """Three to nine direct-current buses, perhaps one behind an inverter, and 3 to 25 loads."""
    buses = tuple(f"bus {number}" for number in range(random.randint(3, 9)))
    breakers = {f"breaker {number}": random.choice((2.0, 5.0, 10.0, 35.0, 50.0)) for number in range(6)}
    links = {
        f"link {number}": _link(random, f"link {number}", buses, breakers)
        for number in range(random.randint(3, 11))
    }
    behind: tuple[str, ...] = ()
    if random.random() < 0.5:
        behind = ("AC bus",)
        output = Output(115.0, random.uniform(0.6, 0.95), random.uniform(0, 20))
        links["set"] = Link(
            "set",
            LinkKind.INVERTER,
            random.choice(buses),
            "AC bus",
            frozenset(TEMPLATE.selector.positions),
            None,
            LinkTraits(output=output),
        )
    loads = {
        f"load {number}": _load(random, f"load {number}", (*buses, *behind), breakers)
        for number in range(random.randint(3, 25))
    }
    return replace(
        TEMPLATE,
        sources={source.name: source for source in _sources(random, buses)},
        buses=(*buses, *behind),
        links=links,
        loads=loads,
        breakers=breakers,
        instruments={},
    )


def random_situation(random: Random, airplane: Airplane) -> Situation:
    """A position, and seldom something lost, pulled, stuck, shorted or failed."""

    def some(names: object, chance: float) -> frozenset[str]:
        return frozenset(name for name in names if random.random() < chance)  # type: ignore[attr-defined]

    return Situation(
        random.choice(airplane.selector.positions),
        lost=some(airplane.sources, 0.2),
        pulled=some(airplane.breakers, 0.1),
        stuck_open=some(airplane.links, 0.1),
        stuck_closed=some(airplane.links, 0.1),
        shorted=some(airplane.buses, 0.05),
        failed=some(airplane.loads, 0.1),
    )


def _link(random: Random, name: str, buses: tuple[str, ...], breakers: dict[str, float]) -> Link:
    start, end = random.sample(buses, 2)
    kind = random.choice(KINDS)
    traits = LinkTraits(
        milliohms=random.choice((None, random.uniform(0.5, 20))),
        drop_volts=random.choice((None, random.uniform(0.2, 1.0))) if kind is LinkKind.DIODE else None,
    )
    closed = frozenset(each for each in TEMPLATE.selector.positions if random.random() < 0.75)
    breaker = random.choice((None, None, *breakers))
    return Link(name, kind, start, end, closed, breaker, traits)


def _load(random: Random, name: str, buses: tuple[str, ...], breakers: dict[str, float]) -> Load:
    feeds = tuple(
        Feed(bus, random.choice((None, *breakers)))
        for bus in random.sample(buses, random.choice((1, 1, 1, 2)))
    )
    if "AC bus" in {feed.bus for feed in feeds}:
        feeds = (Feed("AC bus", feeds[0].breaker),)
    amps = random.choice((0.0, 0.3, 1.0, 2.5, 6.0, 12.0, 25.0))
    floor = random.choice((0.0, 0.0, 18.0, 22.0))
    traits = LoadTraits(random.choice(tuple(Draw)), floor)
    return Load(name, feeds, amps, amps, dict.fromkeys(Phase, 1.0), Service.POWER, Keep.WANT, traits=traits)


def _sources(random: Random, buses: tuple[str, ...]) -> list[Source]:
    sources: list[Source] = [
        _battery(random, f"battery {number}", random.choice(buses)) for number in range(random.randint(1, 3))
    ]
    for number in range(random.randint(0, 3)):
        amps = random.choice((20.0, 60.0, 150.0))
        limit = random.choice((None, amps * 1.2))
        sources.append(
            Generator(
                f"generator {number}",
                random.choice(buses),
                amps,
                random.choice((27.5, 28.0, 28.5)),
                limit,
                random.choice((0.5, 1.0, 3.0)),
            )
        )
    if random.random() < 0.2:
        sources.append(GroundPower("ground power", random.choice(buses), 300.0, 28.0))
    return sources


def _battery(random: Random, name: str, bus: str) -> Battery:
    chemistry = random.choice(tuple(Chemistry))
    return replace(
        TEMPLATE.battery,
        name=name,
        bus=bus,
        chemistry=chemistry,
        cells=CELLS[chemistry],
        ampere_hours=random.choice((7.0, 24.0, 36.0)),
        charge_percent=random.uniform(20, 100),
        celsius=random.uniform(-20, 40),
        milliohms=random.choice((None, 0.0, 8.0, 60.0)),
        charge_amps=random.choice((None, 12.0)),
    )
