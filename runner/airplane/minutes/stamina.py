"""Stamina: minutes on the batteries by rundown, with the approach kept in hand, and the low case.

Recognition, then cruise for as long as the approach can still be flown after it, then the approach.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from runner.airplane.electric.conductor import planned_state
from runner.airplane.electric.flow import BatteryState
from runner.airplane.minutes.accumulator import Accumulator, accumulator
from runner.airplane.minutes.capacity import Conditions
from runner.airplane.minutes.rundown import MOST_MINUTES, Leg, Rundown, RundownPoint, Runner
from runner.airplane.model.airplane import Airplane, EndurancePlan
from runner.airplane.model.situation import NOTHING, on_battery
from runner.airplane.model.wiring import Phase

CLOSE_ENOUGH: Final = 0.01
"""Minutes within which the end of the cruise is found."""


@dataclass(frozen=True, slots=True)
class Stamina:
    """A flight on the batteries that ends on the ground with nothing left in hand."""

    rundown: Rundown
    phase_minutes: Mapping[Phase, float]
    required_minutes: float

    @property
    def minutes(self) -> float:
        """From the failure to the end."""
        return self.rundown.minutes

    @property
    def is_enough(self) -> bool:
        """Whether it reaches what the airplane's file asks for."""
        return self.minutes >= self.required_minutes

    @property
    def goes_on(self) -> bool:
        """Whether it would go on: something still charges the batteries."""
        return self.minutes >= MOST_MINUTES


def stamina(
    airplane: Airplane,
    conditions: Conditions,
    plan: EndurancePlan,
    *,
    shed: frozenset[str] = NOTHING,
    alive: frozenset[str] = NOTHING,
) -> Stamina:
    """How long the batteries last as planned; `alive` are generators that still turn."""
    runner = Runner(airplane, accumulators(airplane, conditions))
    point = runner.start(states(airplane, conditions))
    legs = {
        phase: _leg(airplane, plan, phase, shed, alive)
        for phase in (Phase.RECOGNISE, Phase.CRUISE, Phase.APPROACH)
    }
    points: tuple[RundownPoint, ...] = (point,)
    begun = Rundown((), (), 0.0, is_over=False)
    if plan.recognise_minutes > 0:
        begun, points = runner.leg(point, replace(legs[Phase.RECOGNISE], minutes=plan.recognise_minutes))
    if begun.is_over:
        return _told(begun, plan)
    approach = replace(legs[Phase.APPROACH], minutes=plan.approach_minutes)
    cruise, landed = _longest_cruise(runner, points[-1], legs[Phase.CRUISE], approach)
    whole = Rundown(
        begun.instants + cruise.instants + landed.instants,
        begun.lapses + cruise.lapses + landed.lapses,
        landed.minutes,
        is_over=True,
    )
    return _told(whole, plan)


def accumulators(airplane: Airplane, conditions: Conditions) -> tuple[Accumulator, ...]:
    """Every battery as it is on the day, in the bay's temperature."""
    return tuple(accumulator(each, conditions.on, conditions.celsius) for each in airplane.batteries)


def states(airplane: Airplane, conditions: Conditions) -> Mapping[str, BatteryState]:
    """The first battery as the conditions say, the others as planned, all at the same temperature."""
    found = {
        each.name: replace(planned_state(each), celsius=conditions.celsius) for each in airplane.batteries
    }
    found[airplane.battery.name] = BatteryState(conditions.charge_percent / 100, conditions.celsius)
    return found


def _leg(
    airplane: Airplane, plan: EndurancePlan, phase: Phase, shed: frozenset[str], alive: frozenset[str]
) -> Leg:
    off = shed if phase is not Phase.RECOGNISE else NOTHING
    situation = on_battery(airplane, plan.positions[phase], failed=off)
    return Leg(phase, replace(situation, lost=situation.lost - alive))


def _longest_cruise(
    runner: Runner, point: RundownPoint, cruise: Leg, approach: Leg
) -> tuple[Rundown, Rundown]:
    """The longest cruise after which the approach can still be flown, and that approach."""
    landed, _ = runner.leg(point, approach)
    if landed.is_over and approach.minutes > 0:
        return Rundown((), (), point.minute, is_over=False), landed
    flown, points = runner.leg(point, cruise)
    if not flown.is_over:
        return flown, runner.leg(points[-1], approach)[0]
    last = _last_good(points, lambda each: not runner.leg(each, approach)[0].is_over)
    low, high = 0.0, points[last + 1].minute - points[last].minute if last + 1 < len(points) else 0.0
    while high - low > CLOSE_ENOUGH:
        middle = (low + high) / 2
        part, ends = runner.leg(points[last], replace(cruise, minutes=middle))
        is_good = not part.is_over and not runner.leg(ends[-1], approach)[0].is_over
        low, high = (middle, high) if is_good else (low, middle)
    part, ends = runner.leg(points[last], replace(cruise, minutes=low))
    end = ends[-1].minute
    instants = (*(each for each in flown.instants if each.minute < points[last].minute), *part.instants)
    lapses = tuple(each for each in flown.lapses if each.minute <= end)
    return Rundown(instants, lapses, end, is_over=False), runner.leg(ends[-1], approach)[0]


def _last_good(points: Sequence[RundownPoint], is_good: Callable[[RundownPoint], bool]) -> int:
    """The last of the points that is good, when the first is and all after a bad one are bad."""
    low, high = 0, len(points)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if is_good(points[middle]) else (low, middle)
    return low


def _told(rundown: Rundown, plan: EndurancePlan) -> Stamina:
    ends = dict.fromkeys((Phase.RECOGNISE, Phase.CRUISE, Phase.APPROACH), 0.0)
    before = 0.0
    for instant in rundown.instants:
        ends[instant.phase] += max(0.0, instant.minute - before)
        before = instant.minute
    return Stamina(rundown, ends, plan.required_minutes)
