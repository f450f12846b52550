"""The low case."""

from dataclasses import replace
from datetime import date
from statistics import NormalDist

import numpy as np
import pytest

from runner.airplane.minutes.capacity import planned_conditions
from runner.airplane.minutes.chance import sample_minutes, spread_of
from runner.airplane.minutes.reckoning import Demand, demand, endurance
from runner.airplane.model.airplane import Airplane, EndurancePlan
from runner.airplane.model.source import CapacityTest, Tolerance

ON = date(2026, 11, 25)
ONE_PHASE = EndurancePlan(required_minutes=30, recognise_minutes=0, approach_minutes=0, positions={})
NEEDS = Demand(recognise=20, cruise=20, approach=20)


def test_the_low_case_of_one_normal_figure_is_the_normal_quantile(merlow: Airplane) -> None:
    """With capacity alone uncertain by 8 % (two sigma), 5 % lie under mean x (1 - 1.645 x 0.04).

    Reference: the standard library's statistics.NormalDist.
    """
    battery = replace(
        merlow.battery,
        tested=CapacityTest(80, ON),
        peukert=1.0,
        tolerance=Tolerance(capacity_percent=8, amps_percent=0, charge_percent=0, celsius=0),
    )
    conditions = replace(planned_conditions(battery, ON), charge_percent=100, celsius=23)
    mean = 36 * 0.80 / 20 * 60
    expected = NormalDist(mean, mean * 0.04)
    found = spread_of(battery, conditions, NEEDS, ONE_PHASE, samples=200_000)
    assert found.low == pytest.approx(expected.inv_cdf(0.05), rel=0.002)
    assert found.median == pytest.approx(mean, rel=0.002)
    assert found.high == pytest.approx(expected.inv_cdf(0.95), rel=0.002)


def test_the_same_seed_gives_the_same_samples(tarn: Airplane) -> None:
    """Repeatable to the last digit; another seed differs."""
    conditions = planned_conditions(tarn.battery, ON)
    needs = demand(tarn, tarn.endurance.positions)
    first, again, other = (
        sample_minutes(tarn.battery, conditions, needs, tarn.endurance, samples=1000, seed=seed)
        for seed in (1, 1, 2)
    )
    assert np.array_equal(first, again)
    assert not np.array_equal(first, other)


def test_no_tolerance_means_no_spread(shipped: Airplane) -> None:
    """Every sample is then the plain reckoning."""
    battery = replace(shipped.battery, tolerance=Tolerance(0, 0, 0, 0))
    conditions = planned_conditions(battery, ON)
    needs = demand(shipped, shipped.endurance.positions)
    found = spread_of(battery, conditions, needs, shipped.endurance, samples=100)
    plain = endurance(shipped, conditions, shipped.endurance).total_minutes
    assert [found.low, found.median, found.high] == pytest.approx([plain] * 3)
    assert found.enough_share == 1.0


def test_the_low_case_is_under_the_plain_reckoning(shipped: Airplane) -> None:
    """Of a hundred flights five are shorter still, so it is a stricter figure than the plain one."""
    conditions = planned_conditions(shipped.battery, ON)
    needs = demand(shipped, shipped.endurance.positions)
    found = spread_of(shipped.battery, conditions, needs, shipped.endurance, samples=20_000)
    plain = endurance(shipped, conditions, shipped.endurance).total_minutes
    assert found.low < 0.95 * plain
    assert found.low < found.median < found.high


def test_a_full_battery_is_never_fuller(merlow: Airplane) -> None:
    """Samples above full charge or rated capacity are cut off there."""
    battery = replace(merlow.battery, tested=CapacityTest(100, ON), peukert=1.0)
    conditions = replace(planned_conditions(battery, ON), charge_percent=100, celsius=23)
    exact = replace(battery, tolerance=Tolerance(10, 0, 10, 10))
    minutes = sample_minutes(exact, conditions, NEEDS, ONE_PHASE, samples=10_000, seed=3)
    assert minutes.max() <= 36 / 20 * 60 * (1 + 1e-9)
