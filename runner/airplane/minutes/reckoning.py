"""Endurance: how long the battery carries the airplane, by the phases of a flight without generation.

Recognise and shed, then cruise, then approach and landing: what the first and the last take is set aside, and
the rest is flown at the cruise current. With an exponent of 1 this is the ampere-minute method of ASTM F2490.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.minutes.capacity import Conditions, Usable, rate_share, usable
from runner.airplane.model.airplane import Airplane, EndurancePlan
from runner.airplane.model.situation import NOTHING, on_battery
from runner.airplane.model.source import Battery
from runner.airplane.model.wiring import Phase

Amounts = NDArray[np.float64]

LEAST_AMPS: Final = 0.001
LEAST_MINUTES: Final = 1e-9
"""Keep the quotients finite for a phase that draws nothing and for an empty battery."""


@dataclass(frozen=True, slots=True)
class Demand:
    """Battery current in each phase, amperes."""

    recognise: float
    cruise: float
    approach: float


@dataclass(frozen=True, slots=True)
class Minutes:
    """Minutes of each phase; arrays of one length, one element for each sample."""

    recognise: Amounts
    cruise: Amounts
    approach: Amounts
    total: Amounts


@dataclass(frozen=True, slots=True)
class PhaseUse:
    """What one phase takes from the battery."""

    phase: Phase
    position: str
    amps: float
    minutes: float
    ampere_hours: float


@dataclass(frozen=True, slots=True)
class Endurance:
    """The reckoning for one airplane in given conditions."""

    usable: Usable
    phases: tuple[PhaseUse, ...]
    total_minutes: float
    required_minutes: float
    shed: tuple[str, ...]

    @property
    def is_enough(self) -> bool:
        """Whether the total reaches what the airplane's file asks for."""
        return self.total_minutes >= self.required_minutes


def demand(airplane: Airplane, positions: Mapping[Phase, str], shed: frozenset[str] = NOTHING) -> Demand:
    """Battery current by phase, duty counted; the shed loads are off from the cruise on."""

    def amps(phase: Phase, off: frozenset[str]) -> float:
        aboard = on_battery(airplane, positions[phase], failed=off)
        return LifeNetwork(airplane, phase).solve(aboard).source_amps[airplane.battery.name]

    return Demand(amps(Phase.RECOGNISE, NOTHING), amps(Phase.CRUISE, shed), amps(Phase.APPROACH, shed))


def minutes_on_battery(
    battery: Battery, ampere_hours: Amounts, amps: tuple[Amounts, Amounts, Amounts], plan: EndurancePlan
) -> Minutes:
    """Minutes of each phase for usable ampere-hours and currents (recognise, cruise, approach), by sample.

    When the battery does not last through recognition and approach, the approach is cut short.
    """
    lasts = tuple(_minutes_alone(battery, ampere_hours, each) for each in amps)
    recognise = np.minimum(plan.recognise_minutes, lasts[0])
    left = 1 - recognise / lasts[0]
    approach = np.minimum(plan.approach_minutes, left * lasts[2])
    cruise = np.maximum(left - approach / lasts[2], 0.0) * lasts[1]
    return Minutes(recognise, cruise, approach, recognise + cruise + approach)


def endurance(
    airplane: Airplane, conditions: Conditions, plan: EndurancePlan, shed: frozenset[str] = NOTHING
) -> Endurance:
    """How long the airplane's battery lasts as planned, with the named loads shed after recognition."""
    given = usable(airplane.battery, conditions)
    needs = demand(airplane, plan.positions, shed)
    currents = (needs.recognise, needs.cruise, needs.approach)
    arrays = tuple(np.array([each]) for each in currents)
    found = minutes_on_battery(
        airplane.battery, np.array([given.ampere_hours]), (arrays[0], arrays[1], arrays[2]), plan
    )
    spent = (found.recognise, found.cruise, found.approach)
    uses = tuple(
        PhaseUse(phase, plan.positions[phase], amps, float(minutes[0]), amps * float(minutes[0]) / 60)
        for phase, amps, minutes in zip(
            (Phase.RECOGNISE, Phase.CRUISE, Phase.APPROACH), currents, spent, strict=True
        )
    )
    return Endurance(given, uses, float(found.total[0]), plan.required_minutes, tuple(sorted(shed)))


def _minutes_alone(battery: Battery, ampere_hours: Amounts, amps: Amounts) -> Amounts:
    """Minutes that the battery would last at one current alone; next to none when it gives nothing."""
    drawn = np.maximum(amps, LEAST_AMPS)
    return np.maximum(ampere_hours * rate_share(battery, drawn) / drawn * 60, LEAST_MINUTES)
