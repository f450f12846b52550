"""The played airplane: hands move its switches, seconds go by, and its panel shows what there is to see.

Volts and charge come from the airplane's own solver and rundown; this adds hands, wheels and time.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
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
CALM_SECONDS: Final = 5.0
"""For so long a current is taken as steady where nothing moves."""


@dataclass(slots=True)
class _Bench:
    """The airplane as it is wrong now, made ready to be solved."""

    wrong: Wrong
    runner: Runner


@dataclass(slots=True)
class _Moment:
    """The airplane solved, until something changes."""

    leg: Leg
    flow: Flow
    drives: Mapping[str, float]
    """Of each gyro: its share of rated volts."""
    wheels: tuple[tuple[bool, bool, bool], ...] = ()
    panel: DrillPanel | None = None
    """As it was read last, with the wheels so."""


class PlayedAirplane:
    """One airplane of a drill. Everything that happens to it comes through `move`, `change` and `play`."""

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
        self._known = dict(switches_of(setting))
        self._benches: dict[tuple[Hidden, ...], _Bench] = {}
        self._there = present(self.hidden, 0.0)
        self._wheels = {name: Wheel(seconds) for name, seconds in setting.usual_seconds().items()}
        bench = self._bench()
        self._point = bench.runner.start(batteries_of(setting, bench.wrong.ailing.airplane)[1])
        self._pending = 0.0
        self._moment: _Moment | None = None
        self._solved_at: States = self._point.states
        self._meter_at = self.flow.volts[setting.airplane.battery.bus]

    @property
    def flow(self) -> Flow:
        """Volts and amperes now."""
        return self._now().flow

    @property
    def situation(self) -> Situation:
        """Where everything stands now, the faults included."""
        return self._now().leg.situation

    @property
    def states(self) -> States:
        """Charge and temperature of every battery now."""
        self._catch_up()
        return self._point.states

    def move(self, switch: str, position: str) -> None:
        """A hand moves the selector or a switch; UsageError for what there is not."""
        if position not in self._known.get(switch, ()):
            known = ", ".join(self._known.get(switch, ("nothing",)))
            raise UsageError(f'there is no "{position}" on "{switch}"; it has {known}')
        self._catch_up()
        if switch == self.setting.airplane.selector.name:
            self.selector = position
        elif switch in self.setting.airplane.switches:
            self.moved[switch] = position
        else:
            self.on = self.on | {switch} if position == "on" else self.on - {switch}
        self._point = replace(self._point, gone=frozenset())  # whoever wakes again does so with new volts
        self._moment = None

    def change(self, fault: Hidden, *, is_in: bool) -> None:
        """Put a fault in, or take it out."""
        self._catch_up()
        others = tuple(each for each in self.hidden if each != fault)
        self.hidden = (*others, fault) if is_in else others
        self._there = present(self.hidden, self.seconds)
        usual = replace(self.setting, hidden=self.hidden).usual_seconds()
        self._wheels = {name: replace(each, usual_seconds=usual[name]) for name, each in self._wheels.items()}
        self._moment = None

    def stands(self, switch: str) -> str:
        """The position of the selector or a switch."""
        airplane = self.setting.airplane
        if switch == airplane.selector.name:
            return self.selector
        if switch in airplane.switches:
            return self._situation().stands(airplane.switches[switch])
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
        moment = self._now()
        wheels = tuple((each.is_powered, each.is_up, each.has_been_up) for each in self._wheels.values())
        if moment.panel is None or moment.wheels != wheels:
            moment.panel, moment.wheels = self._read(moment), wheels
        return moment.panel

    def _read(self, moment: _Moment) -> DrillPanel:
        bench, battery = self._bench(), self.setting.airplane.battery
        picture = Picture(bench.wrong.ailing.airplane, moment.leg.situation, moment.flow)
        stands = {name: self.stands(name) for name in self._known}
        volts = self._meter_at if self._is_meter_stuck() else moment.flow.volts[battery.bus]
        celsius = self._point.states[battery.name].celsius
        return read_panel(picture, PanelState(bench.wrong, self._wheels, stands, volts, celsius))

    def _step(self, seconds: float) -> None:
        drives = self._now().drives
        self._wheels = {name: wheel.after(seconds, drives[name]) for name, wheel in self._wheels.items()}
        self.seconds += seconds
        self._pending += seconds
        there = present(self.hidden, self.seconds)
        if there != self._there:
            self._catch_up()
            self._there = there
            self._moment = None
        elif self._pending >= CALM_SECONDS:
            self._catch_up()
        if not self._is_meter_stuck():
            self._meter_at = self.flow.volts[self.setting.airplane.battery.bus]

    def _is_meter_stuck(self) -> bool:
        return any(each.kind is HiddenKind.METER_STUCK for each in self._there)

    def _catch_up(self) -> None:
        """Let the batteries and breakers bear what has flowed since the last time."""
        if not self._pending:
            return
        moment, runner = self._now(), self._bench().runner
        self._point = runner.onward(moment.leg, self._point, moment.flow, self._pending / 60)
        self._pending = 0.0
        lapses, self._point = runner.lapses(self._point, moment.flow)
        if lapses or self._is_stale():
            self._moment = None

    def _is_stale(self) -> bool:
        return any(
            abs(state.charge - self._solved_at[name].charge) > min(STALE_CHARGE, state.charge / 100)
            for name, state in self._point.states.items()
        )

    def _now(self) -> _Moment:
        """The airplane solved, with everything off that is lost at this moment."""
        if self._moment is not None:
            return self._moment
        runner, leg = self._bench().runner, Leg(self.setting.phase, self._situation())
        while True:
            flow = runner.flow(leg, self._point)
            lapses, self._point = runner.lapses(self._point, flow)
            if not lapses:
                break
        self._solved_at = self._point.states
        drives = {name: self._drive(name, leg.situation, flow) for name in self._wheels}
        self._moment = _Moment(leg, flow, drives)
        return self._moment

    def _situation(self) -> Situation:
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

    def _drive(self, gyro: str, situation: Situation, flow: Flow) -> float:
        """The gyro's share of rated volts; 0 without power."""
        airplane = self._bench().wrong.ailing.airplane
        load = airplane.loads[airplane.gyros[gyro].load]
        bus = live_feed(load, situation, flow.carriers)
        if load.name not in flow.alive or bus is None:
            return 0.0
        return min(1.0, max(0.5, flow.volts[bus] / airplane.rated_volts))

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
