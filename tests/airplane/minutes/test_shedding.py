"""Which loads to shed."""

from dataclasses import replace
from datetime import date

import pytest

from runner.airplane.minutes.capacity import Conditions, planned_conditions
from runner.airplane.minutes.chance import spread_of
from runner.airplane.minutes.reckoning import demand, endurance
from runner.airplane.minutes.shedding import SAMPLES, gains, sheddable, shedding_for
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.wiring import Keep

ON = date(2026, 11, 25)


def low_minutes(airplane: Airplane, conditions: Conditions, off: set[str]) -> float:
    """The low case with these loads off."""
    needs = demand(airplane, airplane.endurance.positions, frozenset(off))
    return spread_of(airplane.battery, conditions, needs, airplane.endurance, samples=SAMPLES).low


def test_nothing_is_shed_when_the_low_case_lasts(merlow: Airplane) -> None:
    """The Merlow's battery carries its reserve for more than half an hour as it is."""
    found = shedding_for(merlow, planned_conditions(merlow.battery, ON), merlow.endurance, 30)
    assert found.loads == ()
    assert found.is_enough


def test_every_load_on_the_list_is_needed_there(tarn: Airplane) -> None:
    """Left on, any one of them would bring the low case under the target."""
    conditions = planned_conditions(tarn.battery, ON)
    found = shedding_for(tarn, conditions, tarn.endurance, 60)
    assert found.is_enough
    assert found.loads
    assert low_minutes(tarn, conditions, set(found.loads)) >= 60
    for name in found.loads:
        assert low_minutes(tarn, conditions, set(found.loads) - {name}) < 60


def test_a_load_that_must_be_kept_is_never_shed(tarn: Airplane) -> None:
    """Even when the target cannot be reached; then everything else goes, and the answer says not enough."""
    found = shedding_for(
        tarn, replace(planned_conditions(tarn.battery, ON), charge_percent=40), tarn.endurance, 60
    )
    assert not found.is_enough
    assert {tarn.loads[name].keep for name in found.loads} <= {Keep.SPARE, Keep.WANT}
    assert set(found.loads) == {load.name for load in sheddable(tarn, tarn.endurance)}


def test_spare_loads_go_before_wanted_ones(tarn: Airplane) -> None:
    """The order is keep first, then the heavier first."""
    order = [load.keep for load in sheddable(tarn, tarn.endurance)]
    assert order == sorted(order, key=[Keep.SPARE, Keep.WANT].index)
    wanted = [load.name for load in sheddable(tarn, tarn.endurance) if load.keep is Keep.WANT]
    assert wanted[0] == "transponder"


def test_the_load_that_gives_most_minutes_is_named_first(tarn: Airplane) -> None:
    """Each alone, against the reckoning without it; a motor that seldom runs gives less than a lamp."""
    conditions = planned_conditions(tarn.battery, ON)
    found = gains(tarn, conditions, tarn.endurance)
    assert [gain.minutes for gain in found] == sorted((gain.minutes for gain in found), reverse=True)
    whole = endurance(tarn, conditions, tarn.endurance).total_minutes
    for gain in found:
        without = endurance(tarn, conditions, tarn.endurance, frozenset({gain.load})).total_minutes
        assert gain.minutes == pytest.approx(without - whole)
        assert gain.minutes > 0
    names = [gain.load for gain in found]
    assert names[:2] == ["standby fuel pump", "transponder"]
    assert names.index("glareshield lamps") < names.index("flap motor")


def test_the_total_is_longer_than_the_low_case(tarn: Airplane) -> None:
    """Both figures are given, and the low one is the lower."""
    found = shedding_for(tarn, planned_conditions(tarn.battery, ON), tarn.endurance, 30)
    assert found.low_minutes < found.total_minutes
    assert found.low_minutes == pytest.approx(low_minutes(tarn, planned_conditions(tarn.battery, ON), set()))
