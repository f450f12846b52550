"""What `eyesout endurance` reports, as data and in words."""

import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from runner.airplane.electric.trait import LoadTraits
from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.minutes.capacity import Health, planned_conditions
from runner.airplane.model.source import Battery, CapacityTest
from runner.report.bus.endurance_report import EnduranceReport, assumptions, endurance_dict, endurance_report
from runner.report.bus.endurance_text import endurance_text

AIRPLANES = Path(__file__).parents[3] / "checklists" / "airplanes"
TARN = load_airplane(AIRPLANES / "tarn-qx83.yaml")
ON = date(2026, 11, 25)


def reported(battery: Battery = TARN.battery) -> EnduranceReport:
    """The Tarn with this battery, as its file plans."""
    airplane = replace(TARN, sources={**TARN.sources, battery.name: battery})
    return endurance_report(airplane, planned_conditions(battery, ON), airplane.endurance)


@pytest.fixture(scope="module")
def report() -> EnduranceReport:
    """The Tarn as it stands in its file."""
    return reported()


def test_the_json_is_plain_and_adds_up(report: EnduranceReport) -> None:
    """Shares multiply to the usable ampere-hours, phases add to the total."""
    plain = json.loads(json.dumps(endurance_dict(report)))
    usable = plain["usable"]
    product = usable["rated_ampere_hours"] * usable["health_share"]
    product *= usable["temperature_share"] * usable["charge_share"]
    assert usable["ampere_hours"] == pytest.approx(product, abs=0.02)
    assert plain["total_minutes"] == pytest.approx(sum(each["minutes"] for each in plain["phases"]), abs=0.1)
    assert plain["low_minutes"] < plain["total_minutes"]
    assert [each["target_minutes"] for each in plain["shedding"]] == [30, 60]


def test_other_positions_leave_out_the_parked_and_the_planned_one(report: EnduranceReport) -> None:
    """Main is short, minimum is long, off feeds nothing."""
    assert set(report.elsewhere) == {"main", "minimum"}
    minutes = {position: each.total_minutes for position, each in report.elsewhere.items()}
    assert minutes["main"] < report.plain.total_minutes < minutes["minimum"]


def test_the_assumptions_name_the_manual_the_seed_and_the_table(report: EnduranceReport) -> None:
    """A figure without its assumptions is no figure."""
    words = " ".join(assumptions(report))
    for part in (
        "flight manual governs, always",
        "seed",
        "IEEE 485",
        "Peukert",
        "never claiming more than rated",
    ):
        assert part in words


def test_the_text_says_plainly_when_the_low_case_falls_short(report: EnduranceReport) -> None:
    """As stated it reaches an hour, in the low case it does not; the list of loads follows."""
    words = endurance_text(report)
    assert "As stated 70 min: reaches the 60 min asked for." in words
    assert "DOES NOT REACH" in words
    assert "60 min: shed transponder" in words


def test_a_battery_under_80_percent_is_warned_of() -> None:
    """USBR FIST 3-6 p. 45: under 80 % it is not to be relied upon in an emergency."""
    found = reported(replace(TARN.battery, tested=CapacityTest(78, ON)))
    assert found.health is Health.UNFIT
    assert "WARNING: the battery is at 78 % of its rating" in endurance_text(found)


def test_a_target_out_of_reach_is_called_so() -> None:
    """No list of loads pretends to be enough."""
    battery = replace(TARN.battery, ampere_hours=15)
    words = endurance_text(reported(battery))
    assert "60 min: OUT OF REACH" in words
    assert "DOES NOT REACH the 60 min" in words


def test_the_minutes_by_volts_stand_beside_the_ampere_minutes(report: EnduranceReport) -> None:
    """Constant currents and no floors: the same within a minute, with volts that fall on the way."""
    plain = json.loads(json.dumps(endurance_dict(report)))
    assert plain["by_volts"]["minutes"] == pytest.approx(plain["total_minutes"], abs=1)
    assert plain["by_volts"]["lost"] == []
    volts = [
        each["volts"]["battery bus"] for each in plain["by_volts"]["course"] if each["phase"] == "cruise"
    ]
    assert volts == sorted(volts, reverse=True)
    assert plain["with_a_generator"]["standby alternator"]["goes_on"]
    assert plain["parked"]["days"] < 3
    assert plain["next_capacity_test"] == "2026-11-18"


def test_the_words_name_what_is_lost_and_what_stands_overdue(report: EnduranceReport) -> None:
    """A radio with a floor that the battery reaches before its end is lost at its minute."""
    words = endurance_text(report)
    assert "nothing is lost before the end" in words
    assert "next capacity test by 2026-11-18 (OVERDUE)" in words
    radio = replace(TARN.loads["communication 1"], traits=LoadTraits(drop_out_volts=21.9))
    airplane = replace(TARN, loads={**TARN.loads, radio.name: radio})
    cut = endurance_report(airplane, planned_conditions(airplane.battery, ON), airplane.endurance)
    assert cut.stamina.minutes < report.stamina.minutes - 2
    assert "communication 1: drops out at 21.9 V; it must be kept" in endurance_text(cut)


def test_the_surges_that_are_left_out_are_told_by_the_largest(report: EnduranceReport) -> None:
    """The load with most above its steady current; none is named where no file tells of one."""
    loads = report.airplane.loads
    largest = max(loads.values(), key=lambda load: load.surge_amps - load.amps)
    assert largest.surge_amps > largest.amps
    told = f"start surges are left out (up to {largest.surge_amps:g} A: {largest.name})."
    assert told in " ".join(assumptions(report))
    steady = {name: replace(load, surge_amps=load.amps) for name, load in loads.items()}
    unsaid = replace(report, airplane=replace(report.airplane, loads=steady))
    assert "start surges are left out." in " ".join(assumptions(unsaid))
