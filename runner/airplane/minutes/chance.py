"""Chance: the low case of an endurance when each figure may be off by its tolerance.

Every figure is drawn from a normal distribution with the tolerance as two standard deviations; the error of
the current is one factor for all loads together, the unfavourable case. The seed makes it repeatable.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from runner.airplane.minutes.capacity import Conditions, percent_now
from runner.airplane.minutes.reckoning import Demand, minutes_on_battery
from runner.airplane.minutes.temperature import temperature_share
from runner.airplane.model.airplane import EndurancePlan
from runner.airplane.model.source import Battery

SAMPLES: Final = 100_000
SEED: Final = 20_260_401
LOW_PERCENT: Final = 5.0


@dataclass(frozen=True, slots=True)
class Spread:
    """Total minutes over many samples."""

    low: float
    """Five in a hundred are shorter."""
    median: float
    high: float
    """Five in a hundred are longer."""
    samples: int
    seed: int
    enough_share: float
    """Share of the samples that reach the required minutes."""


def spread_of(
    battery: Battery,
    conditions: Conditions,
    needs: Demand,
    plan: EndurancePlan,
    *,
    samples: int = SAMPLES,
    seed: int = SEED,
) -> Spread:
    """The spread of the endurance under the battery's tolerances."""
    totals = sample_minutes(battery, conditions, needs, plan, samples=samples, seed=seed)
    low, median, high = np.percentile(totals, (LOW_PERCENT, 50.0, 100.0 - LOW_PERCENT))
    enough = float(np.mean(totals >= plan.required_minutes))
    return Spread(float(low), float(median), float(high), samples, seed, enough)


@dataclass(frozen=True, slots=True)
class Draws:
    """What may be counted on, and the currents over the planned ones, by sample."""

    ampere_hours: NDArray[np.float64]
    amps_factor: NDArray[np.float64]


def draw_samples(battery: Battery, conditions: Conditions, *, samples: int, seed: int) -> Draws:
    """A battery's figures under its tolerances; the same for the same seed."""
    draws = np.random.default_rng(seed).standard_normal((4, samples)) / 2
    may = battery.tolerance
    health = percent_now(battery, conditions.on) * (1 + draws[0] * may.capacity_percent / 100)
    charge = conditions.charge_percent * (1 + draws[1] * may.charge_percent / 100)
    warmth = temperature_share(battery, conditions.celsius + draws[2] * may.celsius)
    factor = np.maximum(1 + draws[3] * may.amps_percent / 100, 0.0)
    return Draws(battery.ampere_hours * _share(health) * _share(charge) * warmth, factor)


def sample_minutes(
    battery: Battery,
    conditions: Conditions,
    needs: Demand,
    plan: EndurancePlan,
    *,
    samples: int,
    seed: int,
) -> NDArray[np.float64]:
    """Total minutes of each sample."""
    drawn = draw_samples(battery, conditions, samples=samples, seed=seed)
    factor = drawn.amps_factor
    amps = (factor * needs.recognise, factor * needs.cruise, factor * needs.approach)
    return minutes_on_battery(battery, drawn.ampere_hours, amps, plan).total


def _share(percent: NDArray[np.float64]) -> NDArray[np.float64]:
    """A share of 0 to 1: no battery is better than rated or fuller than full."""
    return np.clip(percent / 100, 0.0, 1.0)
