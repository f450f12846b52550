"""The low case of a stamina: the samples of the ampere-minute method, each corrected by what volts change.

The rundown is asked five times (as planned, with more and less capacity, with more and less current), and its
ratio to the ampere-minutes is carried between, linear in the logarithms: it stays near 1 and is smooth.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from runner.airplane.minutes.capacity import Conditions, usable
from runner.airplane.minutes.chance import LOW_PERCENT, SAMPLES, SEED, Spread, draw_samples
from runner.airplane.minutes.reckoning import Demand, demand, minutes_on_battery
from runner.airplane.minutes.stamina import stamina
from runner.airplane.model.airplane import Airplane, EndurancePlan

FACTORS: Final = (0.8, 1.0, 1.25)
"""Of the plan's capacity and currents, at which the rundown is asked."""

Numbers = NDArray[np.float64]


def stamina_spread(
    airplane: Airplane,
    conditions: Conditions,
    plan: EndurancePlan,
    *,
    samples: int = SAMPLES,
    seed: int = SEED,
) -> Spread:
    """The spread of the stamina under the first battery's tolerances."""
    needs = demand(airplane, plan.positions)
    drawn = draw_samples(airplane.battery, conditions, samples=samples, seed=seed)
    factor = np.maximum(drawn.amps_factor, 0.01)
    amps = (factor * needs.recognise, factor * needs.cruise, factor * needs.approach)
    totals = minutes_on_battery(airplane.battery, drawn.ampere_hours, amps, plan).total
    planned = usable(airplane.battery, conditions).ampere_hours
    asked = _Asked(airplane, conditions, plan, needs)
    totals = totals * asked.ratio(drawn.ampere_hours / max(planned, 1e-9), factor)
    low, median, high = np.percentile(totals, (LOW_PERCENT, 50.0, 100.0 - LOW_PERCENT))
    enough = float(np.mean(totals >= plan.required_minutes))
    return Spread(float(low), float(median), float(high), samples, seed, enough)


@dataclass(frozen=True, slots=True)
class _Asked:
    """Rundowns of one plan at other capacities and currents."""

    airplane: Airplane
    conditions: Conditions
    plan: EndurancePlan
    needs: Demand

    def ratio(self, capacity: Numbers, factor: Numbers) -> Numbers:
        """Minutes by rundown over ampere-minutes, by sample."""
        low, one, high = FACTORS
        middle = self._log_ratio(one, one)
        by_capacity = [self._log_ratio(low, one), middle, self._log_ratio(high, one)]
        by_amps = [self._log_ratio(one, low), middle, self._log_ratio(one, high)]
        known = np.log(FACTORS)
        found: Numbers = np.exp(
            np.interp(np.log(np.maximum(capacity, 1e-3)), known, by_capacity)
            + np.interp(np.log(factor), known, by_amps)
            - middle
        )
        return found

    def _log_ratio(self, capacity: float, factor: float) -> float:
        run = stamina(_scaled(self.airplane, capacity, factor), self.conditions, self.plan)
        hours = np.array([usable(self.airplane.battery, self.conditions).ampere_hours * capacity])
        needs = (self.needs.recognise, self.needs.cruise, self.needs.approach)
        amps = tuple(np.array([each * factor]) for each in needs)
        plain = minutes_on_battery(self.airplane.battery, hours, (amps[0], amps[1], amps[2]), self.plan)
        return float(np.log(max(run.minutes, 1e-3) / max(float(plain.total[0]), 1e-3)))


def _scaled(airplane: Airplane, capacity: float, amps: float) -> Airplane:
    battery = airplane.battery
    sources = {
        **airplane.sources,
        battery.name: replace(battery, ampere_hours=battery.ampere_hours * capacity),
    }
    loads = {name: replace(load, amps=load.amps * amps) for name, load in airplane.loads.items()}
    return replace(airplane, sources=sources, loads=loads)
