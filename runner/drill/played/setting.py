"""What a drill begins with: the airplane, how it stands, and what is hidden in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import numpy as np

from runner.airplane.electric.flow import BatteryState
from runner.airplane.minutes.accumulator import Accumulator
from runner.airplane.minutes.capacity import planned_conditions
from runner.airplane.minutes.stamina import accumulators, states
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.source import Generator
from runner.airplane.model.wiring import Load, Phase
from runner.drill.played.hidden import Hidden, HiddenKind
from runner.fault.fault import Ailing, ailing

OVERVOLTS_SHARE: Final = 1.14
"""Of its volts, what a generator gives whose regulator has failed; ours."""
SOONEST_SHARE: Final = 0.45
LATEST_SHARE: Final = 0.80
"""Of its advise time, between which a healthy gyro is up at rated volts; ours."""
LATE_SHARE: Final = 1.25
"""Of its limit, after which a late flag pulls."""


@dataclass(frozen=True, slots=True)
class Setting:
    """How a drill's airplane is found; the same setting plays the same."""

    airplane: Airplane
    hidden: tuple[Hidden, ...]
    on: date
    seed: int = 0
    off: frozenset[str] = frozenset()
    """Switches that are found off and that the check moves."""
    is_flying: bool = False
    """With generators turning, at a cruise's loads; else on the ground on batteries alone."""

    @property
    def phase(self) -> Phase:
        """Whose duties the loads draw at."""
        return Phase.CRUISE if self.is_flying else Phase.CHECK

    @property
    def lost(self) -> frozenset[str]:
        """Sources that give nothing by themselves."""
        if not self.is_flying:
            return self.airplane.other_sources
        turning = {name for name, each in self.airplane.sources.items() if isinstance(each, Generator)}
        return self.airplane.other_sources - turning

    @property
    def position(self) -> str:
        """Where the selector stands at the beginning."""
        selector = self.airplane.selector
        if self.is_flying:
            return selector.normal
        was_left = any(each.kind is HiddenKind.NOT_RESTORED for each in self.hidden)
        return selector.reserve if was_left else selector.parked

    def without(self, fault: Hidden) -> Setting:
        """The same but for one fault."""
        return replace(self, hidden=tuple(each for each in self.hidden if each != fault))

    def usual_seconds(self) -> Mapping[str, float]:
        """For each gyro the seconds from rest to its flag at rated volts, late ones included."""
        shares = np.random.default_rng(self.seed).uniform(
            SOONEST_SHARE, LATEST_SHARE, len(self.airplane.gyros)
        )
        late = {each.name for each in self.hidden if each.kind is HiddenKind.FLAG_LATE}
        return {
            gyro.name: gyro.limit_seconds * LATE_SHARE
            if gyro.name in late
            else gyro.advise_seconds * float(share)
            for gyro, share in zip(self.airplane.gyros.values(), shares, strict=True)
        }

    def found_on(self) -> frozenset[str]:
        """Loads' own switches that are found on: what draws, wakes nothing, and no item moves."""
        return frozenset(
            load.switch
            for load in self.airplane.loads.values()
            if load.switch is not None and load.switch not in self.off and self._draws(load)
        )

    def _draws(self, load: Load) -> bool:
        return load.duty[self.phase] > 0 and (load.acts is None or self.is_flying)


@dataclass(frozen=True, slots=True)
class Wrong:
    """An airplane with what is wrong with it at one time."""

    ailing: Ailing
    kinds: frozenset[tuple[HiddenKind, str]]
    """Everything that is there, by kind and name."""

    def has(self, kind: HiddenKind, name: str) -> bool:
        """Whether that is wrong with the thing of that name."""
        return (kind, name) in self.kinds


def wrong_with(setting: Setting, there: Iterable[Hidden]) -> Wrong:
    """The airplane with these faults in it, every switched load drawing in full while it is on."""
    faults = tuple(there)
    sick = ailing(_in_hand(setting), *(fault for each in faults if (fault := each.fault) is not None))
    ties = {each.name for each in faults if each.kind is HiddenKind.TIE_STUCK}
    sick = replace(sick, stuck_closed=sick.stuck_closed | ties)
    high = {each.name for each in faults if each.kind is HiddenKind.OVERVOLTS}
    sick = replace(sick, airplane=_overvolted(sick.airplane, high))
    return Wrong(sick, frozenset((each.kind, each.name) for each in faults))


def batteries_of(
    setting: Setting, airplane: Airplane
) -> tuple[tuple[Accumulator, ...], Mapping[str, BatteryState]]:
    """What the batteries of an airplane, ailing or not, hold at the beginning."""
    conditions = planned_conditions(airplane.battery, setting.on)
    return accumulators(airplane, conditions), states(airplane, conditions)


def _in_hand(setting: Setting) -> Airplane:
    """Whatever the student can switch on draws its whole current while it is on."""
    phase = setting.phase
    loads = {
        name: replace(load, duty={**load.duty, phase: 1.0}) if _is_in_full(load, phase, setting) else load
        for name, load in setting.airplane.loads.items()
    }
    return replace(setting.airplane, loads=loads)


def _is_in_full(load: Load, phase: Phase, setting: Setting) -> bool:
    is_idle = load.duty[phase] == 0 or (load.acts is not None and not setting.is_flying)
    return load.switch is not None and is_idle


def _overvolted(airplane: Airplane, names: Iterable[str]) -> Airplane:
    sources = dict(airplane.sources)
    for name in names:
        source = sources[name]
        if isinstance(source, Generator):
            sources[name] = replace(source, volts=source.volts * OVERVOLTS_SHARE)
    return replace(airplane, sources=sources)
