"""The direct-current network: by hand, against networkx for life, and node by node."""

from collections.abc import Callable
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.airplane.electric.circuit import LEAST_SIEMENS
from runner.airplane.electric.current_network import Electric
from runner.airplane.electric.flow import BatteryState, Flow
from runner.airplane.electric.limit import load_amps
from runner.airplane.electric.trait import Draw, LoadTraits
from runner.airplane.life.life_network import LifeNetwork, live_feed
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation, everything_works, on_battery
from tests.airplane.electric.random_airplane import random_airplane, random_situation

AirplaneOf = Callable[[str], Airplane]
RESERVE_RELAY = "{kind: relay, joins: [hot bus, reserve bus], closed_in: reserve, breaker: reserve feed}"


def solved(airplane: Airplane, situation: Situation) -> Flow:
    """The flow with the battery as the file plans."""
    return Electric(airplane).solve(situation)


def random_case(seed: int) -> tuple[Airplane, Situation]:
    """A random airplane in a random situation."""
    random = Random(seed)  # noqa: S311 - test data
    airplane = random_airplane(random)
    return airplane, random_situation(random, airplane)


@given(st.integers(0, 1_000_000))
def test_no_bus_makes_or_loses_current(seed: int) -> None:
    """Kirchhoff's current law, bus by bus, with every load reckoned by itself at its own volts."""
    airplane, situation = random_case(seed)
    flow = solved(airplane, situation)
    behind = {link.end for link in airplane.links.values() if link.traits.output is not None}
    balance = {bus: -flow.volts[bus] * LEAST_SIEMENS for bus in flow.carriers if bus not in behind}
    for source in airplane.sources.values():
        if source.bus in balance:
            balance[source.bus] += flow.source_amps[source.name]
    for name, amps in flow.link_amps.items():
        link = airplane.links[name]
        balance[link.start] -= amps
        if link.end in balance:
            balance[link.end] += amps
    for name in flow.alive:
        load = airplane.loads[name]
        bus = live_feed(load, situation, flow.carriers)
        if bus in balance and flow.volts[bus] >= airplane.rated_volts / 2:
            balance[bus] -= load_amps(airplane, situation, flow, load, load.amps)
    sound = {bus: amps for bus, amps in balance.items() if flow.volts[bus] >= airplane.rated_volts / 2}
    assert sound == pytest.approx(dict.fromkeys(sound, 0.0), abs=1e-5)


@given(st.integers(0, 1_000_000))
def test_life_is_that_of_the_wiring_less_what_let_go(seed: int) -> None:
    """What networkx reaches in the wiring lives, but for loads under their drop-out volts."""
    airplane, situation = random_case(seed)
    flow = solved(airplane, situation)
    life = LifeNetwork(airplane).solve(situation)
    assert flow.alive == life.alive - flow.lost.keys()
    assert set(flow.carriers) == set(life.carriers)
    for name, volts in flow.lost.items():
        assert volts < airplane.loads[name].traits.drop_out_volts


@given(st.integers(0, 1_000_000))
def test_no_source_gives_more_than_its_limit_and_no_generator_takes_any(seed: int) -> None:
    """Past its limit it sags instead."""
    airplane, situation = random_case(seed)
    flow = solved(airplane, situation)
    for source in airplane.sources.values():
        if source not in airplane.batteries:
            limit = getattr(source, "limit_amps", None) or source.amps  # type: ignore[union-attr]
            assert -1e-9 <= flow.source_amps[source.name] <= limit + 1e-9


def test_an_overloaded_alternator_sags_until_the_battery_helps(
    small_yaml: str, airplane_of: AirplaneOf
) -> None:
    """16.5 A on a 10 A generator: 10 A from it, 6.5 A from the battery, at the battery's volts."""
    airplane = airplane_of(small_yaml.replace("amps: 100, volts: 28", "amps: 10, volts: 28"))
    flow = solved(airplane, everything_works(airplane))
    assert flow.source_amps["generator"] == pytest.approx(10)
    assert flow.source_amps["battery"] == pytest.approx(6.5, abs=1e-4)
    assert flow.volts["main bus"] < 25.3  # twelve lead-acid cells at rest, full (BCI)


def test_volts_on_the_reserve_are_those_worked_by_hand(small: Airplane) -> None:
    """6.5 A through 12 mOhm of battery, 1 mOhm of relay and 5 mOhm of a 20 A breaker, from 25.296 V."""
    flow = solved(small, on_battery(small, "reserve"))
    assert flow.source_amps["battery"] == pytest.approx(6.5, abs=1e-4)
    assert flow.volts["hot bus"] == pytest.approx(12 * 2.108 - 6.5 * 0.012, abs=1e-3)
    assert flow.volts["reserve bus"] == pytest.approx(flow.volts["hot bus"] - 6.5 * 0.006, abs=1e-3)


@pytest.mark.parametrize(
    ("draw", "amps"), [(Draw.CURRENT, 7.0), (Draw.POWER, 7.0 * 28 / 25), (Draw.RESISTANCE, 7.0 * 25 / 28)]
)
def test_a_load_draws_by_its_nature(small: Airplane, draw: Draw, amps: float) -> None:
    """7 A at 28 V: at 25 V a regulator takes 7.84 A, a lamp 6.25 A."""
    load = replace(small.loads["radio"], amps=7.0, traits=LoadTraits(draw))
    flow = replace(solved(small, on_battery(small, "reserve")), volts={"reserve bus": 25.0})
    assert load_amps(small, on_battery(small, "reserve"), flow, load, 7.0) == pytest.approx(amps)


def test_a_load_under_its_drop_out_volts_is_lost_and_named(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """The reserve bus has 25.1 V: a radio that needs 26 V lets go, the rest stays."""
    airplane = airplane_of(
        small_yaml.replace("amps: 3, service: comm", "amps: 3, drop_out_volts: 26, service: comm")
    )
    flow = solved(airplane, on_battery(airplane, "reserve"))
    assert list(flow.lost) == ["radio"]
    assert 25 < flow.lost["radio"] < 26
    assert flow.alive == {"gyro supply", "reading light", "lamp"}
    assert flow.source_amps["battery"] == pytest.approx(3.5, abs=1e-4)


def test_a_relay_whose_coil_is_dead_stays_open(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """The reserve relay is held by the main bus: on reserve that is dead, and the relay with it."""
    coil = RESERVE_RELAY.replace("breaker:", "coil: {bus: main bus, drop_out_volts: 10}, breaker:")
    airplane = airplane_of(small_yaml.replace(RESERVE_RELAY, coil))
    assert not solved(airplane, on_battery(airplane, "reserve")).alive
    held = airplane_of(small_yaml.replace(RESERVE_RELAY, coil.replace("main bus, drop", "hot bus, drop")))
    assert "radio" in solved(held, on_battery(held, "reserve")).alive


def test_a_relay_lets_go_when_its_coil_has_too_few_volts(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """A coil that needs 26 V never stays in on a 25 V battery; what it fed is dead, and it is named."""
    coil = RESERVE_RELAY.replace("breaker:", "coil: {bus: hot bus, drop_out_volts: 26, amps: 0.4}, breaker:")
    airplane = airplane_of(small_yaml.replace(RESERVE_RELAY, coil))
    flow = solved(airplane, on_battery(airplane, "reserve"))
    assert list(flow.let_go) == ["reserve relay"]
    assert not flow.alive


def test_a_coil_draws_while_it_holds(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """0.4 A beside the 6.5 A of the reserve."""
    coil = RESERVE_RELAY.replace("breaker:", "coil: {bus: hot bus, drop_out_volts: 10, amps: 0.4}, breaker:")
    airplane = airplane_of(small_yaml.replace(RESERVE_RELAY, coil))
    flow = solved(airplane, on_battery(airplane, "reserve"))
    assert flow.source_amps["battery"] == pytest.approx(6.9, abs=1e-4)


def test_a_switch_opens_its_link_and_is_parked_with_the_selector(
    small_yaml: str, airplane_of: AirplaneOf
) -> None:
    """A reserve switch in series with the selector: armed in flight, off when it is moved."""
    gated = RESERVE_RELAY.replace("breaker:", "switched: {reserve arm: arm}, breaker:")
    switches = "switches:\n  reserve arm: {positions: [arm, off], normal: arm, parked: off}\n"
    words = small_yaml.replace(RESERVE_RELAY, gated).replace("buses:", switches + "buses:")
    airplane = airplane_of(words.replace("off]", '"off"]').replace("parked: off}", 'parked: "off"}'))
    reserve = on_battery(airplane, "reserve")
    assert "radio" in solved(airplane, reserve).alive
    assert not solved(airplane, replace(reserve, moved=frozenset({("reserve arm", "off")}))).alive
    assert on_battery(airplane, "off").is_parked


def test_an_inverter_takes_what_it_gives_and_its_losses(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """56 W out at 80 % and 14 W idle are 84 W from a bus of some 25 V; the AC bus shows its own volts."""
    words = small_yaml.replace("reserve bus]\nlinks:", "reserve bus, AC bus]\nlinks:").replace(
        "breakers:\n",
        "  set: {kind: inverter, joins: [reserve bus, AC bus],"
        " output: {volts: 115, efficiency: 0.8, idle_watts: 14}}\nbreakers:\n",
        1,
    )
    words = words.replace("gyro supply: {bus: reserve bus, breaker: gyro,", "gyro supply: {bus: AC bus,")
    airplane = airplane_of(words)
    flow = solved(airplane, on_battery(airplane, "reserve"))
    assert flow.volts["AC bus"] == 115
    assert flow.inverter_watts == {"set": pytest.approx(56)}
    assert flow.link_amps["set"] == pytest.approx(84 / flow.volts["reserve bus"], rel=1e-6)


def test_a_flat_battery_in_the_state_given_has_lower_volts(small: Airplane) -> None:
    """The states of the batteries stand over the file's plan."""
    full = solved(small, on_battery(small, "reserve"))
    flat = Electric(small).solve(on_battery(small, "reserve"), {"battery": BatteryState(0.1, 25.0)})
    assert flat.volts["hot bus"] < full.volts["hot bus"] - 1


def test_start_surges_sag_deeper_than_steady_currents(small: Airplane) -> None:
    """The gyro starts with 5 A instead of 2 A."""
    surge = Electric(small, surge=True).solve(on_battery(small, "reserve"))
    assert surge.source_amps["battery"] == pytest.approx(9.5, abs=1e-4)
    assert surge.volts["reserve bus"] < solved(small, on_battery(small, "reserve")).volts["reserve bus"]
