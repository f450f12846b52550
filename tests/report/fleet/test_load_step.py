"""Amperes between two volt readings of a check, by the load analysis."""

from pathlib import Path

import pytest

from runner.airplane.electric.current_network import Electric
from runner.airplane.minutes.cell import ohms
from runner.airplane.model.situation import on_battery
from runner.airplane.model.wiring import Phase
from runner.logbook.invented.synthetic import InventedAirplane, Recipe, Story, write_history
from runner.logbook.record.run_store import Logbook
from runner.report.fleet.load_step import load_step, steps_by_run
from runner.report.fleet.voltage import VoltagePair, voltage_pair
from runner.session.parts import load_parts
from tests.checklist.shipped import shipped_airplane, shipped_check

PAIRS = (("merlow-ml2", "merlow-reserve"), ("tarn-qx83", "tarn-reserve"), ("pellow-jv62", "pellow-reserve"))


def pair_of(check: str) -> VoltagePair:
    """Its readings before and on the reserve."""
    pair = voltage_pair(shipped_check(check))
    assert pair is not None
    return pair


def test_what_has_no_switch_and_the_lamps_are_between_the_twin_jet_s_readings() -> None:
    """By hand from its load analysis: two gyros, inverter, audio, fire, gear, fuel and flood lamps."""
    airplane = shipped_airplane("merlow-ml2")
    amps = load_step(shipped_check("merlow-reserve"), airplane, pair_of("merlow-reserve"))
    assert amps == pytest.approx(1.4 + 1.1 + 0.9 + 0.5 + 0.3 + 0.6 + 0.6 + 1.6, abs=0.02)


@pytest.mark.parametrize(("name", "check"), PAIRS)
def test_two_readings_of_the_model_give_back_its_battery_s_resistance(name: str, check: str) -> None:
    """Ohm's law on the volts of the solver; what is not yet switched on draws nothing at the reading."""
    airplane = shipped_airplane(name)
    battery = airplane.battery
    rested, loaded = (
        Electric(airplane, Phase.CHECK).solve(on_battery(airplane, position))
        for position in (airplane.selector.parked, airplane.selector.reserve)
    )
    drop = rested.volts[battery.bus] - loaded.volts[battery.bus]
    more = loaded.source_amps[battery.name] - rested.source_amps[battery.name]
    assert drop / more == pytest.approx(
        ohms(battery, battery.charge_percent / 100, battery.celsius), rel=0.05
    )
    assert 0 < load_step(shipped_check(check), airplane, pair_of(check)) < more


def test_a_run_counts_by_its_own_files(tmp_path: Path) -> None:
    """A run whose check reads other volts has no amperes in this pair."""
    parts = load_parts("tarn-reserve")
    airplane = InventedAirplane(parts.check.airplane, "QQ-ZZZ", parts.check_text, parts.airplane_text)
    with Logbook.open(tmp_path) as logbook:
        write_history(logbook, parts.check, airplane, Recipe(Story.NORMAL_WEAR, 7, runs=3))
        runs = [str(row[0]) for row in logbook.rows("SELECT id FROM chain WHERE kind = 'run'", ())]
        found = steps_by_run(logbook, runs, pair_of("tarn-reserve"), {})
        assert steps_by_run(logbook, runs, VoltagePair("other", "volts on essential"), {}) == {}
    assert len(found) == 3
    assert len(set(found.values())) == 1
