"""Bands tied to endurance: what a passing reading leaves on the battery."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from runner.airplane.electric.band import Meter
from runner.airplane.minutes.capacity import planned_conditions
from runner.airplane.minutes.reckoning import endurance
from runner.airplane.model.airplane import Airplane
from runner.checklist.derive.derived_check import derive
from runner.checklist.format.check import Check, Item
from runner.checklist.format.check_load import parse_check
from runner.checklist.kind.numbered import Band
from runner.checklist.kind.reading import Reading
from runner.checklist.lint.finding import Grade
from runner.checklist.lint.minutes_truth import judge_bands
from tests.checklist.shipped import FOLDER, RESERVE_CHECKS, shipped_airplane, shipped_check

ON = date(2026, 11, 25)
TARN, MERLOW = shipped_airplane("tarn-qx83"), shipped_airplane("merlow-ml2")


@pytest.mark.parametrize("airplane", [TARN, MERLOW], ids=lambda each: each.name)
def test_the_charge_that_a_meter_shows_is_the_charge_that_made_it_show(airplane: Airplane) -> None:
    """There and back, at rest and on the reserve."""
    meter = Meter(airplane, ON)
    for position in (airplane.selector.parked, airplane.selector.reserve):
        for charge in (0.2, 0.5, 0.8, 0.95):
            assert meter.charge(position, meter.volts(position, charge)) == pytest.approx(charge, abs=0.002)


def test_volts_at_rest_mean_the_charge_of_the_published_table() -> None:
    """24.9 V of a 24 V battery are three quarters (BCI), less the little that the hot bus draws."""
    assert Meter(TARN, ON).charge(TARN.selector.parked, 24.9) == pytest.approx(0.75, abs=0.01)


def test_a_voltage_is_worth_the_minutes_of_the_charge_that_it_shows() -> None:
    """The endurance of that charge, and fewer in the low case."""
    meter = Meter(TARN, ON)
    volts = meter.volts(TARN.selector.reserve, 0.8)
    worth = meter.worth(TARN.selector.reserve, volts)
    conditions = replace(planned_conditions(TARN.battery, ON), charge_percent=80)
    assert worth.best == pytest.approx(endurance(TARN, conditions, TARN.endurance).total_minutes, abs=0.3)
    assert worth.low < worth.best - 5


def test_a_floor_lets_exactly_the_required_minutes_through() -> None:
    """Pass by the low case, caution at best."""
    meter = Meter(TARN, ON)
    for position in (TARN.selector.parked, TARN.selector.reserve):
        floors = meter.floors(position)
        assert floors.passing is not None
        assert floors.caution is not None
        assert meter.worth(position, floors.passing).low == pytest.approx(60, abs=0.5)
        assert meter.worth(position, floors.caution).best == pytest.approx(60, abs=0.5)
        assert floors.passing > floors.caution


def with_pass_from(check: Check, name: str, volts: str) -> Check:
    """The check with a reading that passes from these volts on."""

    def edited(item: Item) -> Item:
        body = item.body
        if item.name != name or not isinstance(body, Reading):
            return item
        low = Decimal(volts)
        band = Band(low, body.pass_band.high)
        caution = body.caution_band and Band(min(low, body.caution_band.low), body.caution_band.high)
        return replace(item, body=replace(body, pass_band=band, caution_band=caution))

    sections = tuple(
        replace(section, items=tuple(edited(item) for item in section.items)) for section in check.sections
    )
    return replace(check, sections=sections)


def test_a_band_that_lets_too_little_through_is_an_error_that_says_how_much() -> None:
    """24.6 V at rest on the Tarn, which asks for 60 min."""
    check = with_pass_from(shipped_check("tarn-reserve"), "battery at rest", "24.6")
    passing, caution = judge_bands(check, TARN, ON)
    assert passing.grade is Grade.ERROR
    assert "pass from 24.6 V lets 24 min through in the low case, and 60 are required" in passing.message
    assert passing.message.endswith("begin it at 25.2")
    assert "caution from 24.6 V lets 32 min through at best" in caution.message


def test_more_minutes_than_a_full_battery_has_is_a_warning_for_every_band() -> None:
    """No band can promise what the battery does not hold."""
    plan = replace(TARN.endurance, required_minutes=200)
    found = judge_bands(shipped_check("tarn-reserve"), replace(TARN, endurance=plan), ON)
    assert {each.grade for each in found} == {Grade.WARNING}
    assert all("even a full battery does not give 200 min" in each.message for each in found)


@pytest.mark.parametrize("name", [path.stem for path in RESERVE_CHECKS])
def test_the_shipped_checks_let_nothing_short_through(name: str) -> None:
    """Their bands begin where their airplanes' required minutes hold."""
    check = shipped_check(name)
    assert judge_bands(check, shipped_airplane(check.airplane), ON) == ()


@pytest.mark.parametrize("name", ["merlow-ml2", "tarn-qx83"])
def test_a_derived_check_lets_nothing_short_through(name: str) -> None:
    """Whatever the file's bands say: they are begun higher where they must be."""
    airplane = shipped_airplane(name)
    wide = replace(
        airplane.voltmeter.at_rest,
        passing=(Decimal("22.0"), Decimal("26.6")),
        caution=(Decimal("20.0"), Decimal("27.0")),
    )
    lax = replace(airplane, voltmeter=replace(airplane.voltmeter, at_rest=wide, on_reserve=wide))
    check = parse_check(derive(lax, ON), FOLDER / "derived.yaml")
    assert judge_bands(check, lax, ON) == ()


def test_a_derived_check_reads_the_volts_after_surges_and_lamps() -> None:
    """A reading in the surge of the gyros and before the lamps are on says nothing of the reserve's load."""
    check = parse_check(derive(TARN, ON), FOLDER / "derived.yaml")
    names = [item.name for item in check.items]
    assert names.index("volts under load") > max(names.index(lamp) for lamp in TARN.lamps)
