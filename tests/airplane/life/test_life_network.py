"""The solver against a hand-worked circuit, and against networkx on random networks."""

from dataclasses import replace
from pathlib import Path

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.airplane.life.life_network import LifeNetwork, live_feed
from runner.airplane.life.path import path_to
from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation, everything_works, on_battery
from runner.airplane.model.source import Generator, nominal_volts
from runner.airplane.model.wiring import Feed, Keep, Link, LinkKind, Load, Phase, Service

AIRPLANES = Path(__file__).parents[3] / "checklists" / "airplanes"
TEMPLATE = load_airplane(AIRPLANES / "merlow-ml2.yaml")
POSITIONS = TEMPLATE.selector.positions
BUSES = tuple(f"bus {number}" for number in range(7))
BREAKERS = tuple(f"breaker {number}" for number in range(5))
LINKS = tuple(f"link {number}" for number in range(9))
LOADS = tuple(f"load {number}" for number in range(10))
SOURCES = ("main battery", "generator 1", "generator 2")

buses = st.sampled_from(BUSES)
breakers = st.sampled_from((None, *BREAKERS))


def subsets(names: tuple[str, ...], largest: int = 3) -> st.SearchStrategy[frozenset[str]]:
    """A few of the names."""
    return st.frozensets(st.sampled_from(names), max_size=largest)


@st.composite
def airplanes(draw: st.DrawFn) -> Airplane:
    """Random networks: some in islands, with loops, one-way links, and loads with two feeds."""
    links = {
        name: Link(
            name,
            draw(st.sampled_from(LinkKind)),
            draw(buses),
            draw(buses),
            draw(subsets(POSITIONS)),
            draw(breakers),
        )
        for name in LINKS[: draw(st.integers(0, len(LINKS)))]
    }
    loads = {
        name: Load(
            name,
            tuple(Feed(draw(buses), draw(breakers)) for _ in range(draw(st.integers(1, 2)))),
            draw(st.integers(1, 40)) / 4,
            20.0,
            dict.fromkeys(Phase, 1.0),
            Service.POWER,
            Keep.WANT,
        )
        for name in LOADS
    }
    battery = replace(TEMPLATE.battery, bus=draw(buses))
    generators = {
        name: Generator(name, draw(buses), 100, draw(st.sampled_from((28.0, 28.5)))) for name in SOURCES[1:]
    }
    return replace(
        TEMPLATE,
        sources={battery.name: battery, **generators},
        buses=BUSES,
        links=links,
        loads=loads,
        breakers=dict.fromkeys(BREAKERS, 10.0),
        instruments={},
    )


situations = st.builds(
    Situation,
    position=st.sampled_from(POSITIONS),
    lost=subsets(SOURCES),
    pulled=subsets(BREAKERS),
    stuck_open=subsets(LINKS),
    stuck_closed=subsets(LINKS),
    shorted=subsets(BUSES, 2),
    failed=subsets(LOADS, 2),
)


def conductors(airplane: Airplane, situation: Situation) -> "nx.DiGraph[str]":
    """The network as networkx sees it: whole buses, and an edge for each way that current may go."""
    graph = nx.DiGraph()
    graph.add_nodes_from(set(airplane.buses) - situation.shorted)
    for link in airplane.links.values():
        is_closed = situation.position in link.closed_in or link.name in situation.stuck_closed
        is_broken = link.name in situation.stuck_open or link.breaker in situation.pulled
        if is_closed and not is_broken and graph.has_node(link.start) and graph.has_node(link.end):
            graph.add_edge(link.start, link.end)
            if link.kind not in (LinkKind.DIODE, LinkKind.INVERTER):
                graph.add_edge(link.end, link.start)
    return graph


def reachable(airplane: Airplane, situation: Situation) -> dict[str, set[str]]:
    """For each live bus, the sources that reach it, by networkx."""
    graph = conductors(airplane, situation)
    reached: dict[str, set[str]] = {}
    for source in airplane.sources.values():
        if source.name not in situation.lost and graph.has_node(source.bus):
            for bus in {source.bus} | nx.descendants(graph, source.bus):
                reached.setdefault(bus, set()).add(source.name)
    return reached


@given(airplanes(), situations)
def test_live_buses_and_loads_are_those_that_networkx_reaches(
    airplane: Airplane, situation: Situation
) -> None:
    """Reachability is the whole truth about life and death; networkx is the reference."""
    solution = LifeNetwork(airplane).solve(situation)
    reached = reachable(airplane, situation)
    assert set(solution.carriers) == set(reached)
    expected = {
        load.name
        for load in airplane.loads.values()
        if load.name not in situation.failed
        and any(feed.bus in reached and feed.breaker not in situation.pulled for feed in load.feeds)
    }
    assert solution.alive == expected


@given(airplanes(), situations)
def test_each_bus_is_carried_by_the_highest_voltage_that_reaches_it(
    airplane: Airplane, situation: Situation
) -> None:
    """Of the sources that networkx says can reach a bus, those of the highest voltage carry it."""
    reached = reachable(airplane, situation)
    for bus, carriers in LifeNetwork(airplane).solve(situation).carriers.items():
        volts = {name: nominal_volts(airplane.sources[name]) for name in reached[bus]}
        assert set(carriers) == {name for name, each in volts.items() if each == max(volts.values())}


@given(airplanes(), situations)
def test_sources_give_what_live_loads_take(airplane: Airplane, situation: Situation) -> None:
    """No current is made or lost on the way (Kirchhoff's current law over the whole network)."""
    solution = LifeNetwork(airplane).solve(situation)
    taken = sum(airplane.loads[name].amps for name in solution.alive)
    assert sum(solution.source_amps.values()) == pytest.approx(taken)
    for source in situation.lost & set(airplane.sources):
        assert solution.source_amps[source] == 0


@given(airplanes(), situations)
def test_no_bus_makes_or_loses_current(airplane: Airplane, situation: Situation) -> None:
    """What comes into each bus goes out of it (Kirchhoff's current law, bus by bus)."""
    solution = LifeNetwork(airplane).solve(situation)
    balance = dict.fromkeys(solution.carriers, 0.0)
    for source in airplane.sources.values():
        if source.bus in balance:
            balance[source.bus] += solution.source_amps[source.name]
    for name, amps in solution.link_amps.items():
        balance[airplane.links[name].start] -= amps
        balance[airplane.links[name].end] += amps
    for name in solution.alive:
        bus = live_feed(airplane.loads[name], situation, solution.carriers)
        assert bus is not None
        balance[bus] -= airplane.loads[name].amps
    assert balance == pytest.approx(dict.fromkeys(balance, 0.0), abs=1e-9)


@given(airplanes(), situations)
def test_a_path_is_unbroken_exactly_when_its_load_is_alive(airplane: Airplane, situation: Situation) -> None:
    """The reason given for a load and its life never contradict each other."""
    alive = LifeNetwork(airplane).solve(situation).alive
    for load in airplane.loads.values():
        assert (not path_to(airplane, situation, load).breaks) == (load.name in alive)


def test_a_lead_acid_cell_counts_two_volts_and_a_nickel_cadmium_cell_one_point_two(
    merlow: Airplane, tarn: Airplane
) -> None:
    """Nominal cell voltages (FAA AMT handbook text on battery types): both batteries are 24 V."""
    assert nominal_volts(merlow.battery) == pytest.approx(24)
    assert nominal_volts(tarn.battery) == pytest.approx(24)


def test_currents_of_the_small_airplane_on_reserve_are_those_worked_by_hand(small: Airplane) -> None:
    """Radio 3 + gyro 2 + reading light 1 + lamp 0.5 = 6.5 A, all through the reserve relay."""
    solution = LifeNetwork(small).solve(on_battery(small, "reserve"))
    assert solution.alive == {"radio", "gyro supply", "reading light", "lamp"}
    assert solution.source_amps == {"battery": 6.5, "generator": 0.0}
    assert solution.link_amps == {"reserve relay": 6.5}
    assert solution.bus_amps == {"hot bus": 6.5, "reserve bus": 6.5}


def test_the_current_in_a_tie_is_the_net_of_both_generators(merlow: Airplane) -> None:
    """Each generator gives half of all loads; the left tie carries what the left side does not need."""
    solution = LifeNetwork(merlow).solve(everything_works(merlow))
    half = sum(load.amps for load in merlow.loads.values()) / 2
    assert solution.source_amps["left generator"] == pytest.approx(half)
    assert solution.bus_amps["left main bus"] == pytest.approx(
        sum(
            load.amps
            for load in merlow.loads.values()
            if load.feeds[0].bus in {"left main bus", "reserve bus", "reserve AC bus"}
        )
    )
    assert solution.link_amps["left tie limiter"] == pytest.approx(solution.bus_amps["left main bus"] - half)


def test_the_generator_carries_everything_in_normal(small: Airplane) -> None:
    """28 V stands over 24 V: the battery gives nothing, and the lamp is on its first feed."""
    solution = LifeNetwork(small).solve(everything_works(small))
    assert solution.source_amps == {"battery": 0.0, "generator": 16.5}
    assert solution.link_amps == {"reserve diode": 6.0, "battery relay": 0.0}


def test_a_pulled_breaker_moves_the_lamp_and_kills_the_radio(small: Airplane) -> None:
    """The lamp's second feed shares the radio's breaker: on reserve both go; in normal the lamp stays."""
    on_reserve = replace(on_battery(small, "reserve"), pulled=frozenset({"radio"}))
    assert LifeNetwork(small).solve(on_reserve).alive == {"gyro supply", "reading light"}
    normal = replace(everything_works(small), pulled=frozenset({"radio"}))
    assert LifeNetwork(small).solve(normal).alive == {"gyro supply", "reading light", "heater", "lamp"}


def test_a_welded_battery_relay_keeps_the_main_bus_alive_on_reserve(small: Airplane) -> None:
    """The fault that an expected-dead item is there to find."""
    welded = replace(on_battery(small, "reserve"), stuck_closed=frozenset({"battery relay"}))
    solution = LifeNetwork(small).solve(welded)
    assert "heater" in solution.alive
    assert solution.source_amps["battery"] == pytest.approx(16.5)


def test_duty_counts_when_a_phase_is_given(small: Airplane) -> None:
    """The heater's 10 A at half duty in cruise are 5 A."""
    cruise = LifeNetwork(small, Phase.CRUISE).solve(everything_works(small))
    assert cruise.source_amps["generator"] == pytest.approx(11.5)


def test_equal_generators_share_the_load(merlow: Airplane) -> None:
    """Both generators of the Merlow stand at 28.5 V on one network."""
    amps = LifeNetwork(merlow).solve(everything_works(merlow)).source_amps
    assert amps["left generator"] == pytest.approx(amps["right generator"])
    assert amps["ground power"] == 0


def test_the_reserve_sheds_the_heaters_and_keeps_the_radio_of_this_tail(shipped: Airplane) -> None:
    """Common practice, no source: a reserve bus sheds all ice protection and keeps one radio."""
    alive = LifeNetwork(shipped).solve(on_battery(shipped, shipped.selector.reserve)).alive
    assert not [name for name in alive if shipped.loads[name].service is Service.ICE]
    assert [radio for radio in shipped.radios.values() if radio.differs and radio.load in alive]
