"""Endurance by phases."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.airplane.minutes.capacity import Conditions, planned_conditions, usable
from runner.airplane.minutes.reckoning import demand, endurance, minutes_on_battery
from runner.airplane.model.airplane import Airplane, EndurancePlan
from runner.airplane.model.source import Battery, CapacityTest, Chemistry, Tolerance
from runner.airplane.model.wiring import Phase

IDEAL = Battery(
    name="battery",
    bus="hot bus",
    chemistry=Chemistry.LEAD_ACID,
    cells=6,
    ampere_hours=35,
    hour_rate=1,
    end_volts=10,
    peukert=1.0,
    tested=CapacityTest(100, date(2026, 1, 1)),
    fade_percent_per_year=0,
    charge_percent=75,
    celsius=25,
    temperature_shares=(),
    tolerance=Tolerance(),
)
PLAN = EndurancePlan(required_minutes=30, recognise_minutes=5, approach_minutes=10, positions={})


def one(amps: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """A single sample."""
    return np.array([amps])


def test_the_published_night_ifr_example_lasts_40_point_8_minutes() -> None:
    """STC installation manual 190-02246-10 Rev 11 p. 3-38, after ASTM F2490.

    0.75 x 35 Ah = 1575 A min; 5 min at 43.5 A, 10 min at 48.1 A, cruise at 34.0 A: 25.8 min (25.779),
    40.8 min (40.779) in all, against 30 required.
    """
    given_by = usable(IDEAL, planned_conditions(IDEAL, date(2026, 1, 1)))
    found = minutes_on_battery(IDEAL, one(given_by.ampere_hours), (one(43.5), one(34.0), one(48.1)), PLAN)
    assert given_by.ampere_hours * 60 == pytest.approx(1575)
    assert found.cruise[0] == pytest.approx(25.779, abs=5e-4)
    assert found.total[0] == pytest.approx(40.779, abs=5e-4)


def test_a_battery_too_small_for_the_approach_cuts_it_short() -> None:
    """10 Ah: 5 min at 60 A take 5 Ah, the other 5 Ah give 5 of the 10 min at 60 A, and no cruise is left."""
    found = minutes_on_battery(IDEAL, one(10.0), (one(60.0), one(20.0), one(60.0)), PLAN)
    assert [found.recognise[0], found.cruise[0], found.approach[0]] == pytest.approx([5, 0, 5])


def test_a_battery_that_dies_during_recognition_leaves_nothing_after() -> None:
    """2 Ah at 60 A are two minutes."""
    found = minutes_on_battery(IDEAL, one(2.0), (one(60.0), one(20.0), one(60.0)), PLAN)
    assert found.total[0] == pytest.approx(2)


@given(
    ampere_hours=st.floats(1, 60),
    amps=st.tuples(st.floats(5, 200), st.floats(1, 60), st.floats(1, 60)),
    exponent=st.floats(1.0, 1.4),
    more=st.floats(0.1, 5),
)
def test_more_current_never_means_more_time(
    ampere_hours: float, amps: tuple[float, float, float], exponent: float, more: float
) -> None:
    """Raising any phase's current cannot lengthen the flight, whatever the exponent."""
    battery = replace(IDEAL, peukert=exponent)
    plain = minutes_on_battery(battery, one(ampere_hours), (one(amps[0]), one(amps[1]), one(amps[2])), PLAN)
    for phase in range(3):
        raised = [one(each + more * (place == phase)) for place, each in enumerate(amps)]
        found = minutes_on_battery(battery, one(ampere_hours), (raised[0], raised[1], raised[2]), PLAN)
        assert found.total[0] <= plain.total[0] + 1e-9


@given(st.floats(1, 60), st.floats(0.5, 30))
def test_no_discharge_gives_more_ampere_hours_than_are_usable(ampere_hours: float, cruise: float) -> None:
    """At a low current, where bare Peukert would promise more, the total drawn stays within what there is."""
    battery = replace(IDEAL, peukert=1.3)
    found = minutes_on_battery(battery, one(ampere_hours), (one(cruise), one(cruise), one(cruise)), PLAN)
    assert found.total[0] * cruise / 60 <= ampere_hours * (1 + 1e-9)


def test_an_airplane_s_demand_is_the_sum_of_its_live_loads(tarn: Airplane) -> None:
    """Amperes of the essential, minimum and battery bus loads, added up by hand from the file."""
    needs = demand(tarn, tarn.endurance.positions)
    battery_bus = 0.05 + 0.1
    minimum_bus = 0.7 + 2.8 + 0.6 + 1.6
    essential_bus = 1.2 + 0.5 + 1.3 + 0.4 + 1.5 + 1.8 + 6.5 * 0.2
    assert needs.cruise == pytest.approx(battery_bus + minimum_bus + essential_bus)
    assert needs.approach == pytest.approx(needs.cruise + 6.5 * 0.8 + 9 * 0.04)


def test_shedding_a_load_lengthens_the_cruise(tarn: Airplane) -> None:
    """Without the transponder's 1.8 A the total grows, and its name is kept."""
    conditions = planned_conditions(tarn.battery, date(2026, 6, 1))
    full = endurance(tarn, conditions, tarn.endurance)
    shed = endurance(tarn, conditions, tarn.endurance, frozenset({"transponder"}))
    assert shed.total_minutes > full.total_minutes + 5
    assert shed.shed == ("transponder",)
    assert full.phases[0].amps == shed.phases[0].amps


def test_the_phases_add_up_to_the_usable_ampere_hours(merlow: Airplane) -> None:
    """With an ideal battery, what the phases draw is exactly what was usable."""
    ideal = replace(merlow, sources={**merlow.sources, "main battery": replace(merlow.battery, peukert=1.0)})
    found = endurance(ideal, planned_conditions(ideal.battery, date(2026, 9, 1)), ideal.endurance)
    assert sum(use.ampere_hours for use in found.phases) == pytest.approx(found.usable.ampere_hours)
    assert [use.phase for use in found.phases] == [Phase.RECOGNISE, Phase.CRUISE, Phase.APPROACH]
    assert sum(use.minutes for use in found.phases) == pytest.approx(found.total_minutes)


def test_an_empty_battery_lasts_no_time(merlow: Airplane) -> None:
    """No charge, no minutes, no error."""
    found = endurance(merlow, Conditions(date(2026, 9, 1), 0, 20), merlow.endurance)
    assert found.total_minutes == pytest.approx(0, abs=1e-6)
    assert not found.is_enough
