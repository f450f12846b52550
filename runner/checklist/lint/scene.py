"""The scene of a check: its airplane on the battery alone, solved once for each selector position."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from runner.airplane.life.lively import Life, Picture, picture
from runner.airplane.life.path import path_to
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import on_battery
from runner.checklist.format.check import Check, Item
from runner.checklist.lint.finding import Finding, Grade, found


@dataclass(frozen=True, slots=True)
class Scene:
    """A check and its airplane."""

    check: Check
    airplane: Airplane
    _pictures: dict[str, Picture] = field(default_factory=dict, repr=False)
    _lives: dict[str, Mapping[str, Life]] = field(default_factory=dict, repr=False)

    def picture(self, position: str) -> Picture:
        """The airplane in a selector position, on its battery alone."""
        if position not in self._pictures:
            self._pictures[position] = picture(self.airplane, on_battery(self.airplane, position))
        return self._pictures[position]

    def lives(self, position: str) -> Mapping[str, Life]:
        """Life of everything that an item can name, in a selector position."""
        if position not in self._lives:
            self._lives[position] = self.picture(position).lives()
        return self._lives[position]

    def path(self, load: str, position: str) -> str:
        """The way of a load's current in words, with the first break when there is one."""
        way = path_to(self.airplane, on_battery(self.airplane, position), self.airplane.loads[load])
        steps = " > ".join(way.steps)
        return f"{way.breaks[0].cause}: {steps}" if way.breaks else steps

    def error(self, item: Item, message: str) -> Finding:
        """A contradiction at an item."""
        return found(self.check, item, Grade.ERROR, message)

    def warning(self, item: Item, message: str) -> Finding:
        """A doubt at an item."""
        return found(self.check, item, Grade.WARNING, message)


def parked_lives(airplane: Airplane) -> Mapping[str, Life]:
    """Life of everything before the selector moves, on the battery alone."""
    return picture(airplane, on_battery(airplane, airplane.selector.parked)).lives()
