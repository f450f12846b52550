"""Looks: what a seat can see of an airplane in a selector position, healthy or not, on the battery alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum

from runner.airplane.electric.current_network import Electric
from runner.airplane.life.lively import Life, Picture
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.wiring import Phase
from runner.fault.fault import Ailing


class Sight(StrEnum):
    """What a look can be at."""

    LIFE = "life"
    """Of a load, an instrument or a part of one."""
    BULBS = "bulbs"
    FLAG = "flag"
    """Of a gyro, and whether it pulls in its time."""
    VOLTS = "volts"
    SWING = "swing"
    """Of the voltmeter, and whether it shows anything but what it showed at rest."""


@dataclass(frozen=True, slots=True, order=True)
class Look:
    """One thing to look at in one selector position."""

    position: str
    sight: Sight
    name: str

    def __str__(self) -> str:
        return f'{self.name} ({self.sight}) in "{self.position}"'


@dataclass(slots=True)
class Seen:
    """An airplane with its faults, ready to be looked at; each position is solved once."""

    ailing: Ailing
    _pictures: dict[str, Picture] = field(default_factory=dict)
    _electric: Electric | None = None

    def at(self, look: Look) -> str:
        """What is seen, in a word: a volt reading as the meter shows it."""
        match look.sight:
            case Sight.LIFE:
                return str(self.life(look.position, look.name))
            case Sight.BULBS:
                return self._bulbs(look)
            case Sight.FLAG:
                return self._flag(look)
            case Sight.VOLTS:
                return str(self.volts(look.position))
            case Sight.SWING:
                rested = self.volts(self.ailing.airplane.selector.parked)
                return "unmoved" if self.volts(look.position) == rested else "moved"

    def life(self, position: str, name: str) -> Life:
        """Alive, dead or in part."""
        picture = self.picture(position)
        airplane = picture.airplane
        if name in airplane.loads:
            return Life.ALIVE if name in picture.solution.alive else Life.DEAD
        for instrument in airplane.instruments.values():
            if name == instrument.name:
                return picture.life_of_instrument(instrument)
            for part in instrument.parts:
                if name == instrument.part_name(part):
                    return Life.DEAD if picture.drive_of(part) is None else Life.ALIVE
        raise KeyError(name)

    def volts(self, position: str) -> Decimal:
        """What the voltmeter shows, in its own steps; 0 when it is dead."""
        airplane = self.ailing.airplane
        meter = airplane.voltmeter
        shown = airplane.selector.parked if self.ailing.is_meter_stuck else position
        if self.life(position, meter.name) is Life.DEAD:
            return Decimal(0)
        volts = Decimal(self.picture(shown).solution.volts[airplane.battery.bus])
        steps = (volts / meter.resolution).to_integral_value(ROUND_HALF_UP)
        return steps * meter.resolution

    def picture(self, position: str) -> Picture:
        """The airplane in a position, loads at their duty in a check."""
        if position not in self._pictures:
            if self._electric is None:
                self._electric = Electric(_quiet(self.ailing.airplane), Phase.CHECK)
            situation = self.ailing.alone(position)
            self._pictures[position] = Picture(
                self.ailing.airplane, situation, self._electric.solve(situation)
            )
        return self._pictures[position]

    def _bulbs(self, look: Look) -> str:
        lamp = self.ailing.airplane.lamps[look.name]
        if self.life(look.position, lamp.load) is Life.DEAD:
            return "no light"
        out = [bulb for bulb in lamp.bulbs if (lamp.name, bulb) in self.ailing.bulbs_out]
        return f"{', '.join(out)} out" if out else "all lit"

    def _flag(self, look: Look) -> str:
        gyro = self.ailing.airplane.gyros[look.name]
        if self.life(look.position, gyro.load) is Life.DEAD:
            return "stays"
        return "late" if gyro.name in self.ailing.slow else "pulls"


def _quiet(airplane: Airplane) -> Airplane:
    """What radiates, heats, moves or pumps stays switched off in a check, and draws nothing."""
    loads = {
        name: replace(load, amps=0.0) if load.acts is not None and load.switch is not None else load
        for name, load in airplane.loads.items()
    }
    return replace(airplane, loads=loads)


def looks_of(airplane: Airplane) -> tuple[Look, ...]:
    """Everything that can be looked at from the seats, in every selector position, on the battery alone.

    What radiates, heats, moves or pumps is not woken just to be seen.
    """
    return tuple(
        Look(position, sight, name)
        for position in airplane.selector.positions
        for sight, name in _sights(airplane)
    )


def _sights(airplane: Airplane) -> Iterator[tuple[Sight, str]]:
    yield Sight.VOLTS, airplane.voltmeter.name
    for gyro in airplane.gyros:
        yield Sight.FLAG, gyro
    for lamp in airplane.lamps:
        yield Sight.BULBS, lamp
    for load in airplane.loads.values():
        if load.duty[Phase.CHECK] > 0 and load.acts is None:
            yield Sight.LIFE, load.name
    for instrument in airplane.instruments.values():
        for part in instrument.parts:
            yield Sight.LIFE, instrument.part_name(part)
