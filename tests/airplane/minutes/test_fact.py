"""The battery line's figures."""

from datetime import date

import pytest

from runner.airplane.minutes.capacity import planned_conditions, usable
from runner.airplane.minutes.fact import electrical_facts
from runner.airplane.model.airplane import Airplane


def test_each_position_has_its_current(small: Airplane) -> None:
    """Off 0, normal 16.5 and reserve 6.5 A, worked by hand from the small airplane's loads."""
    facts = electrical_facts(small, date(2026, 1, 1))
    assert facts.battery_amps == {"off": 0.0, "normal": 16.5, "reserve": 6.5}
    assert facts.parked_position == "off"
    assert facts.warn_share == pytest.approx(0.1)
    assert facts.usable_ampere_hours == pytest.approx(30 * 0.95)


def test_a_shipped_airplane_is_warned_before_a_tenth_of_its_battery_is_gone(shipped: Airplane) -> None:
    """The facts follow the file's planned conditions."""
    on = date(2026, 11, 25)
    facts = electrical_facts(shipped, on)
    given_by = usable(shipped.battery, planned_conditions(shipped.battery, on))
    assert facts.usable_ampere_hours == pytest.approx(given_by.ampere_hours)
    assert list(facts.battery_amps) == list(shipped.selector.positions)
    assert facts.battery_amps[shipped.selector.reserve] < facts.battery_amps[shipped.selector.normal]
    assert facts.warn_share <= 0.1
