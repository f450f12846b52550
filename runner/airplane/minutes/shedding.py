"""Shedding: which loads to turn off so that the battery lasts as long as it must."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.minutes.capacity import Conditions
from runner.airplane.minutes.chance import spread_of
from runner.airplane.minutes.reckoning import demand, endurance
from runner.airplane.model.airplane import Airplane, EndurancePlan
from runner.airplane.model.situation import on_battery
from runner.airplane.model.wiring import Keep, Load, Phase

ORDER = {Keep.SPARE: 0, Keep.WANT: 1}
"""A load that must be kept is never on the list."""
SAMPLES: Final = 20_000
"""Enough for the low case to a tenth of a minute or so, quick enough to ask for every load."""
FLOWN = (Phase.CRUISE, Phase.APPROACH)


@dataclass(frozen=True, slots=True)
class Shedding:
    """An answer to one target."""

    target_minutes: float
    loads: tuple[str, ...]
    """To be turned off after recognition, the least missed first; empty when none need be."""
    total_minutes: float
    """With them off, every figure as stated."""
    low_minutes: float
    """With them off, in the low case."""

    @property
    def is_enough(self) -> bool:
        """Whether even the low case reaches the target."""
        return self.low_minutes >= self.target_minutes


@dataclass(frozen=True, slots=True)
class Gain:
    """What turning one load off is worth."""

    load: str
    minutes: float
    """More on the battery, every figure as stated; it alone off after recognition."""
    keep: Keep


def gains(airplane: Airplane, conditions: Conditions, plan: EndurancePlan) -> tuple[Gain, ...]:
    """Every load that may be shed with the minutes that it gives back by ampere-minutes, the most first."""
    whole = endurance(airplane, conditions, plan).total_minutes
    found = (
        Gain(
            load.name,
            endurance(airplane, conditions, plan, frozenset({load.name})).total_minutes - whole,
            load.keep,
        )
        for load in sheddable(airplane, plan)
    )
    return tuple(sorted(found, key=lambda gain: (-gain.minutes, gain.load)))


def shedding_for(
    airplane: Airplane, conditions: Conditions, plan: EndurancePlan, target_minutes: float
) -> Shedding:
    """The loads to shed so that even the low case reaches a target, and none that is not needed for it.

    Spare loads go first, the heaviest of them first. Out of reach: everything that may be shed.
    """

    def low(off: list[str]) -> float:
        needs = demand(airplane, plan.positions, frozenset(off))
        return spread_of(airplane.battery, conditions, needs, plan, samples=SAMPLES).low

    chosen: list[str] = []
    candidates = [load.name for load in sheddable(airplane, plan)]
    while low(chosen) < target_minutes and len(chosen) < len(candidates):
        chosen.append(candidates[len(chosen)])
    if low(chosen) >= target_minutes:
        chosen = _needed(chosen, lambda off: low(off) >= target_minutes)
    total = endurance(airplane, conditions, plan, frozenset(chosen)).total_minutes
    return Shedding(target_minutes, tuple(chosen), total, low(chosen))


def sheddable(airplane: Airplane, plan: EndurancePlan) -> tuple[Load, ...]:
    """Loads that draw in cruise or approach and need not be kept, in the order in which to shed them."""
    network = LifeNetwork(airplane)
    alive = frozenset[str]().union(
        *(network.solve(on_battery(airplane, plan.positions[phase])).alive for phase in FLOWN)
    )
    loads = [airplane.loads[name] for name in alive if airplane.loads[name].keep in ORDER]
    return tuple(sorted((load for load in loads if any(_draws(load))), key=_shed_rank))


def _draws(load: Load) -> tuple[float, float]:
    """Mean amperes in cruise and in approach."""
    return load.amps * load.duty[Phase.CRUISE], load.amps * load.duty[Phase.APPROACH]


def _shed_rank(load: Load) -> tuple[int, float, float, str]:
    cruise, approach = _draws(load)
    return ORDER[load.keep], -cruise, -approach, load.name


def _needed(chosen: list[str], is_enough: Callable[[list[str]], bool]) -> list[str]:
    """The list without whatever can stay on, the dearest tried first."""
    for name in reversed(chosen.copy()):
        fewer = [each for each in chosen if each != name]
        if is_enough(fewer):
            chosen = fewer
    return chosen
