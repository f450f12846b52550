"""The solver's volts and amperes against ngspice, on random networks and on the shipped airplanes."""

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from runner.airplane.electric.current_network import Electric
from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation, everything_works, on_battery
from tests.airplane.electric.random_airplane import random_airplane, random_situation
from tests.airplane.electric.spice import Deck, needs_ngspice

NETWORKS = 320
IN_A_TEST = 20
VOLTS = AMPS = 0.010
AIRPLANES = Path(__file__).parents[3] / "checklists" / "airplanes"


def compare(airplane: Airplane, situation: Situation, folder: Path) -> None:
    """Every bus, source and link within 10 mV and 10 mA of ngspice; what was lost is left out there too."""
    flow = Electric(airplane).solve(situation)
    deck = Deck(airplane, situation, flow)
    assert set(flow.carriers) == deck.live
    if not deck.live:
        return
    volts, source_amps, link_amps = deck.solve(folder)
    assert {bus: flow.volts[bus] for bus in volts} == pytest.approx(volts, abs=VOLTS, rel=0)
    assert {name: flow.source_amps[name] for name in source_amps} == pytest.approx(
        source_amps, abs=AMPS, rel=0
    )
    assert {name: flow.link_amps[name] for name in link_amps} == pytest.approx(link_amps, abs=AMPS, rel=0)


@needs_ngspice
@pytest.mark.parametrize("seed", range(NETWORKS // IN_A_TEST))
def test_random_networks_agree_with_ngspice(seed: int, tmp_path: Path) -> None:
    """Of each seed twenty networks: volts and amperes within 10 mV and 10 mA (ngspice 39)."""
    random = Random(seed)  # noqa: S311 - test data
    for _ in range(IN_A_TEST):
        airplane = random_airplane(random)
        compare(airplane, random_situation(random, airplane), tmp_path)


@pytest.fixture(params=sorted(path.stem for path in AIRPLANES.glob("*.yaml")))
def every_shipped(request: pytest.FixtureRequest) -> Airplane:
    """Each airplane that is shipped."""
    return load_airplane(AIRPLANES / f"{request.param}.yaml")


def shipped_situations(airplane: Airplane) -> Iterable[Situation]:
    """Every position with all sources and on the battery, then everything at once lost in turn."""
    for position in airplane.selector.positions:
        yield replace(everything_works(airplane), position=position)
        yield on_battery(airplane, position)
    for source in airplane.sources:
        yield replace(everything_works(airplane), lost=frozenset({source}))
    for link in airplane.links:
        yield replace(on_battery(airplane, airplane.selector.reserve), stuck_closed=frozenset({link}))


@needs_ngspice
def test_the_shipped_airplanes_agree_with_ngspice(every_shipped: Airplane, tmp_path: Path) -> None:
    """In every position, with each source lost, and with each link welded."""
    for situation in shipped_situations(every_shipped):
        compare(every_shipped, situation, tmp_path)
