"""Rundown: an airplane on what its batteries hold, until something that must be kept is lost.

Charge, volts and temperature are carried on by the midpoint rule in steps that shrink until each loss (a
load under its drop-out volts, a breaker that has borne too much, an empty battery) has its time.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from runner.airplane.electric.current_network import Electric
from runner.airplane.electric.flow import BatteryState, Flow
from runner.airplane.electric.limit import breaker_amps
from runner.airplane.electric.trip import trip_seconds
from runner.airplane.minutes.accumulator import Accumulator
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation
from runner.airplane.model.wiring import Keep, Phase

LONGEST_STEP: Final = 10.0
SHORTEST_STEP: Final = 1e-3
"""Minutes."""
CHARGE_STEP: Final = 0.02
"""Of a battery's charge, which a step may take at most."""
MOST_MINUTES: Final = 10 * 60.0
"""Whatever lasts longer is told as lasting so long at least."""
EMPTY: Final = 1e-12

States = Mapping[str, BatteryState]


@dataclass(frozen=True, slots=True)
class Leg:
    """A part of the flight: a situation for some minutes, or for as long as it can be kept up."""

    phase: Phase
    situation: Situation
    minutes: float = MOST_MINUTES


@dataclass(frozen=True, slots=True)
class Instant:
    """How things stand at a minute."""

    minute: float
    phase: Phase
    volts: Mapping[str, float]
    """Of every bus."""
    amps: Mapping[str, float]
    """Of every source."""
    states: States


@dataclass(frozen=True, slots=True)
class Lapse:
    """Something that is lost at a minute."""

    minute: float
    name: str
    cause: str
    is_kept: bool
    """Whether it must be kept, so that the rundown ends with it."""


@dataclass(frozen=True, slots=True)
class Rundown:
    """A flight from its first minute to the end."""

    instants: tuple[Instant, ...]
    lapses: tuple[Lapse, ...]
    minutes: float
    is_over: bool
    """Whether something that must be kept was lost, rather than the legs having come to their end."""


@dataclass(frozen=True, slots=True)
class RundownPoint:
    """Where a rundown stands between two steps."""

    minute: float
    states: States
    worn: Mapping[str, float]
    """Share of its trip time that each breaker has borne."""
    gone: frozenset[str]
    """Loads that have dropped out; they stay off."""
    out: frozenset[str]
    """Breakers that have opened."""
    empty: frozenset[str]
    """Batteries that give no more."""


class Runner:
    """Runs an airplane down; one for many flights of it."""

    def __init__(self, airplane: Airplane, accumulators: Iterable[Accumulator]) -> None:
        self._airplane = airplane
        self._accumulators = {each.battery.name: each for each in accumulators}
        self._electric: dict[Phase, Electric] = {}

    def start(self, states: States) -> RundownPoint:
        """The first point, with every battery as found."""
        return RundownPoint(0.0, dict(states), {}, frozenset(), frozenset(), frozenset())

    def leg(self, point: RundownPoint, leg: Leg) -> tuple[Rundown, tuple[RundownPoint, ...]]:
        """Fly one leg from a point; every point that it comes by, the first and the last included."""
        return _Flight(self, leg, point).run()

    def run(self, states: States, legs: Iterable[Leg]) -> Rundown:
        """Fly the legs in turn until they end or something that must be kept is lost."""
        point = self.start(states)
        instants: list[Instant] = []
        lapses: list[Lapse] = []
        for leg in legs:
            found, points = self.leg(point, leg)
            point = points[-1]
            instants += found.instants
            lapses += found.lapses
            if found.is_over:
                return Rundown(tuple(instants), tuple(lapses), point.minute, is_over=True)
        return Rundown(tuple(instants), tuple(lapses), point.minute, is_over=False)

    def flow(self, leg: Leg, point: RundownPoint) -> Flow:
        """Volts and amperes at a point of a leg."""
        if leg.phase not in self._electric:
            self._electric[leg.phase] = Electric(self._airplane, leg.phase)
        situation = leg.situation
        now = replace(
            situation,
            lost=situation.lost | point.empty,
            failed=situation.failed | point.gone,
            pulled=situation.pulled | point.out,
        )
        return self._electric[leg.phase].solve(now, point.states)

    def onward(self, leg: Leg, point: RundownPoint, flow: Flow, minutes: float) -> RundownPoint:
        """The point after some minutes of a flow."""
        states = {
            name: each.after(point.states[name], flow.source_amps[name], minutes)
            for name, each in self._accumulators.items()
        }
        worn = {**point.worn, **self._wear(leg, point, flow, minutes)}
        return replace(point, minute=point.minute + minutes, states=states, worn=worn)

    def _wear(self, leg: Leg, point: RundownPoint, flow: Flow, minutes: float) -> Mapping[str, float]:
        airplane = self._airplane
        amps = breaker_amps(airplane, leg.situation, flow, dict(self._electric[leg.phase].amps))
        return {
            name: point.worn.get(name, 0.0)
            + minutes * 60 / trip_seconds(airplane.trip_curve, airplane.breakers[name], each)
            for name, each in amps.items()
            if each > airplane.breakers[name]
        }

    def lapses(self, point: RundownPoint, flow: Flow) -> tuple[tuple[Lapse, ...], RundownPoint]:
        """What is newly lost at a point, and the point without it."""
        found = [
            Lapse(point.minute, name, f"drops out at {volts:.1f} V", self._is_kept(name))
            for name, volts in flow.lost.items()
        ]
        tripped = {name for name, share in point.worn.items() if share >= 1} - point.out
        found += [
            Lapse(point.minute, name, "opens: it has borne too much", is_kept=False) for name in tripped
        ]
        empty = {name for name in self._accumulators if self._is_empty(name, point, flow)} - point.empty
        found += [Lapse(point.minute, name, "gives no more", is_kept=False) for name in empty]
        after = replace(
            point, gone=point.gone | flow.lost.keys(), out=point.out | tripped, empty=point.empty | empty
        )
        return tuple(found), after

    def _is_empty(self, name: str, point: RundownPoint, flow: Flow) -> bool:
        battery = self._accumulators[name].battery
        is_giving = flow.source_amps[name] > 0
        is_low = battery.milliohms != 0 and flow.volts[battery.bus] < battery.end_volts
        return point.states[name].charge <= EMPTY or (is_giving and is_low)

    def kept(self, alive: Iterable[str]) -> frozenset[str]:
        """Of live loads, those that must be kept."""
        return frozenset(name for name in alive if self._is_kept(name))

    def _is_kept(self, load: str) -> bool:
        return self._airplane.loads[load].keep is Keep.MUST


class _Flight:
    """One leg being flown."""

    def __init__(self, runner: Runner, leg: Leg, point: RundownPoint) -> None:
        self._runner, self._leg, self._point = runner, leg, point
        self._points: list[RundownPoint] = []
        self._end = point.minute + leg.minutes
        self._instants: list[Instant] = []
        self._lapses: list[Lapse] = []

    def run(self) -> tuple[Rundown, tuple[RundownPoint, ...]]:
        """Step until the leg ends or something kept is lost."""
        begun = self._point.minute
        flow = self._settled(begun)
        needed = self._runner.kept(flow.alive)
        self._note(flow)
        is_over = self._is_over(flow, needed)
        step = self._longest(flow)
        while not is_over and self._point.minute < self._end - EMPTY:
            step = min(step, self._end - self._point.minute)
            tried = self._stepped(flow, step)
            next_flow = self._runner.flow(self._leg, tried)
            lapses, _ = self._runner.lapses(tried, next_flow)
            if lapses and step > SHORTEST_STEP:
                step = max(SHORTEST_STEP, step / 2)
                continue
            self._point = tried
            flow = self._settled(tried.minute) if lapses else next_flow
            self._note(flow)
            step = self._longest(flow) if lapses else min(self._longest(flow), step * 2)
            is_over = self._is_over(flow, needed)
        over = Rundown(tuple(self._instants), tuple(self._lapses), self._point.minute, is_over)
        return over, tuple(self._points)

    def _longest(self, flow: Flow) -> float:
        """The step in which no battery's charge changes by more than CHARGE_STEP."""
        after = self._runner.onward(self._leg, self._point, flow, 1.0).states
        most = max(abs(after[name].charge - state.charge) for name, state in self._point.states.items())
        return min(LONGEST_STEP, CHARGE_STEP / max(most, EMPTY))

    def _is_over(self, flow: Flow, needed: frozenset[str]) -> bool:
        return not flow.carriers or not needed <= flow.alive or any(each.is_kept for each in self._lapses)

    def _stepped(self, flow: Flow, step: float) -> RundownPoint:
        """A step by the flow at its middle, or at its start where something is lost by the middle already."""
        middle = self._runner.onward(self._leg, self._point, flow, step / 2)
        middle_flow = self._runner.flow(self._leg, middle)
        if self._runner.lapses(middle, middle_flow)[0]:
            middle_flow = flow
        return self._runner.onward(self._leg, self._point, middle_flow, step)

    def _settled(self, minute: float) -> Flow:
        """The flow once everything that is lost at this minute is off."""
        while True:
            flow = self._runner.flow(self._leg, self._point)
            lapses, after = self._runner.lapses(self._point, flow)
            if not lapses:
                return flow
            self._lapses += [replace(each, minute=minute) for each in lapses]
            self._point = after

    def _note(self, flow: Flow) -> None:
        self._points.append(self._point)
        self._instants.append(
            Instant(self._point.minute, self._leg.phase, flow.volts, flow.source_amps, self._point.states)
        )
