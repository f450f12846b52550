"""The played airplane: hands move its switches, seconds go by, and its panel shows what there is to see.

Volts and charge come from the airplane's own solver and rundown; this adds hands, wheels and time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from runner.airplane.electric.flow import Flow
from runner.airplane.life.life_network import live_feed
from runner.airplane.life.lively import Picture
from runner.airplane.minutes.rundown import Leg, Runner, States
from runner.airplane.model.situation import Situation
from runner.drill.played.drill_panel import DrillPanel, PanelState, read_panel
from runner.drill.played.hidden import Hidden, HiddenKind, present
from runner.drill.played.setting import Setting, Wrong, batteries_of, wrong_with
from runner.drill.played.wheel import Wheel
from runner.errors import UsageError

STALE_CHARGE: Final = 5e-4
"""Share of a battery's charge after which its volts are reckoned anew: under 2 mV on any shipped airplane."""
SECOND: Final = 1.0


@dataclass(slots=True)
class _Bench:
    """The airplane as it is wrong now, made ready to be solved."""

    wrong: Wrong
    runner: Runner


class PlayedAirplane:
    """One airplane of a drill. Everything that happens to it comes through `move` and `play`."""

    def __init__(self, setting: Setting) -> None:
        self.setting = setting
        self.hidden = setting.hidden
        """Changes only by an instructor's hand."""
        self.seconds = 0.0
        self.selector = setting.position
        self.on = setting.found_on()
        """Loads' own switches that are on."""
        self.moved: dict[str, str] = {}
        """Switches of links that were moved, with where they stand."""
        self._benches: dict[tuple[Hidden, ...], _Bench] = {}
        self._there = present(self.hidden, 0.0)
        self._wheels = {name: Wheel(seconds) for name, seconds in setting.usual_seconds().items()}
        bench = self._bench()
        self._point = bench.runner.start(batteries_of(setting, bench.wrong.ailing.airplane)[1])
        self._flow: Flow | None = None
        self._solved_at: States = self._point.states
        self._at_rest = self.flow.volts[setting.airplane.battery.bus]
        self._meter_at = self._at_rest

    @property
    def flow(self) -> Flow:
        """Volts and amperes now."""
        if self._flow is None:
            self._flow = self._settled()
        return self._flow

    @property
    def states(self) -> States:
        """Charge and temperature of every battery now."""
        return self._point.states

    @property
    def lapsed(self) -> frozenset[str]:
        """What has been lost on the way: loads that dropped out, breakers that opened, empty batteries."""
        return self._point.gone | self._point.out | self._point.empty

    @property
    def situation(self) -> Situation:
        """Where everything stands, the faults included."""
        wrong, setting = self._bench().wrong, self.setting
        off = {
            load.name
            for load in setting.airplane.loads.values()
            if load.switch is not None and load.switch not in self.on
        }
        dead = {each.name for each in self._there if each.kind is HiddenKind.GIVES_NOTHING}
        return wrong.ailing.with_faults(
            Situation(
                self.selector,
                lost=setting.lost | dead,
                failed=frozenset(off),
                moved=frozenset(self.moved.items()),
                is_parked=self.selector == setting.airplane.selector.parked,
            )
        )

    def move(self, switch: str, position: str) -> None:
        """A hand moves the selector or a switch; UsageError for what there is not."""
        airplane = self.setting.airplane
        known = dict(switches_of(self.setting))
        if switch not in known or position not in known[switch]:
            raise UsageError(
                f'there is no "{position}" on "{switch}"; it has {", ".join(known.get(switch, ("nothing",)))}'
            )
        if switch == airplane.selector.name:
            self.selector = position
        elif switch in airplane.switches:
            self.moved[switch] = position
        else:
            self.on = self.on | {switch} if position == "on" else self.on - {switch}
        self._point = replace(self._point, gone=frozenset())  # whoever wakes again does so with new volts
        self._forget()

    def change(self, fault: Hidden, *, is_in: bool) -> None:
        """Put a fault in, or take it out."""
        others = tuple(each for each in self.hidden if each != fault)
        self.hidden = (*others, fault) if is_in else others
        self._there = present(self.hidden, self.seconds)
        self._forget()

    def stands(self, switch: str) -> str:
        """The position of the selector or a switch."""
        airplane = self.setting.airplane
        if switch == airplane.selector.name:
            return self.selector
        if switch in airplane.switches:
            return self.situation.stands(airplane.switches[switch])
        return "on" if switch in self.on else "off"

    def play(self, seconds: float) -> None:
        """Let time go by, a second at a time."""
        end = self.seconds + seconds
        while self.seconds < end - 1e-9:
            self._step(min(SECOND, end - self.seconds))

    def leap(self, seconds: float) -> None:
        """Let time go by in one step, for where nothing that happens on the way matters."""
        self._step(seconds)

    def panel(self) -> DrillPanel:
        """What can be seen now."""
        bench = self._bench()
        picture = Picture(bench.wrong.ailing.airplane, self.situation, self.flow)
        stands = {name: self.stands(name) for name, _ in switches_of(self.setting)}
        state = PanelState(bench.wrong, self._wheels, stands, self._shown_volts(), self._celsius())
        return read_panel(picture, state)

    def _shown_volts(self) -> float:
        """What the meter's needle is led to, before its own mistakes."""
        is_stuck = any(each.kind is HiddenKind.METER_STUCK for each in self._there)
        return self._meter_at if is_stuck else self.flow.volts[self.setting.airplane.battery.bus]

    def _celsius(self) -> float:
        return self.states[self.setting.airplane.battery.name].celsius

    def _step(self, seconds: float) -> None:
        bench, flow = self._bench(), self.flow
        self._point = bench.runner.onward(self._leg(), self._point, flow, seconds / 60)
        self._wheels = {name: wheel.after(seconds, self._drive(name)) for name, wheel in self._wheels.items()}
        self.seconds += seconds
        there = present(self.hidden, self.seconds)
        if there != self._there:
            self._there = there
            self._forget()
        elif self._is_stale():
            self._flow = None
        lapses, after = self._bench().runner.lapses(self._point, self.flow)
        if lapses:
            self._point = after
            self._forget()
        if not any(each.kind is HiddenKind.METER_STUCK for each in self._there):
            self._meter_at = self.flow.volts[self.setting.airplane.battery.bus]

    def _is_stale(self) -> bool:
        return any(
            abs(state.charge - self._solved_at[name].charge) > min(STALE_CHARGE, state.charge / 100)
            for name, state in self._point.states.items()
        )

    def _forget(self) -> None:
        self._flow = None

    def _settled(self) -> Flow:
        """The flow once everything that is lost at this moment is off."""
        runner, leg = self._bench().runner, self._leg()
        while True:
            flow = runner.flow(leg, self._point)
            lapses, after = runner.lapses(self._point, flow)
            if not lapses:
                self._solved_at = self._point.states
                return flow
            self._point = after

    def _leg(self) -> Leg:
        return Leg(self.setting.phase, self.situation)

    def _drive(self, gyro: str) -> float:
        """The gyro's share of rated volts; 0 without power. Behind an inverter it has all or nothing."""
        airplane = self._bench().wrong.ailing.airplane
        load = airplane.loads[airplane.gyros[gyro].load]
        if load.name not in self.flow.alive:
            return 0.0
        bus = live_feed(load, self.situation, self.flow.carriers)
        volts = self.flow.volts[bus] if bus is not None else 0.0
        return min(1.0, max(0.5, volts / airplane.rated_volts))

    def _bench(self) -> _Bench:
        bench = self._benches.get(self._there)
        if bench is None:
            wrong = wrong_with(self.setting, self._there)
            each, _ = batteries_of(self.setting, wrong.ailing.airplane)
            bench = self._benches[self._there] = _Bench(wrong, Runner(wrong.ailing.airplane, each))
        return bench


def switches_of(setting: Setting) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The selector and every switch, each with its positions, in the order of the file."""
    airplane = setting.airplane
    yield airplane.selector.name, airplane.selector.positions
    for switch in airplane.switches.values():
        yield switch.name, switch.positions
    for name in dict.fromkeys(load.switch for load in airplane.loads.values() if load.switch is not None):
        yield name, ("off", "on")
