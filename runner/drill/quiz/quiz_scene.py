"""The scene of a quiz: one airplane on its battery alone, solved where it is asked about."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from runner.airplane.electric.current_network import Electric
from runner.airplane.life.lively import Picture
from runner.airplane.life.path import CurrentPath, path_to
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import on_battery
from runner.airplane.model.wiring import Keep, Load


@dataclass(frozen=True, slots=True)
class QuizScene:
    """An airplane, and its pictures as far as they were asked for."""

    airplane: Airplane
    _electric: Electric = field(init=False, repr=False, compare=False)
    _pictures: dict[tuple[str, str], Picture] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    def __post_init__(self) -> None:
        object.__setattr__(self, "_electric", Electric(self.airplane))

    @property
    def positions(self) -> tuple[str, ...]:
        """Where the selector may stand in flight, the reserve first."""
        selector = self.airplane.selector
        others = (each for each in selector.positions if each not in (selector.parked, selector.reserve))
        return (selector.reserve, *others)

    def picture(self, position: str, pulled: str = "") -> Picture:
        """On the battery alone, with at most one breaker out."""
        key = (position, pulled)
        if key not in self._pictures:
            situation = on_battery(self.airplane, position)
            if pulled:
                situation = replace(situation, pulled=frozenset({pulled}))
            solution = self._electric.solve(situation)
            self._pictures[key] = Picture(self.airplane, situation, solution)
        return self._pictures[key]

    def losses(self, position: str) -> Iterator[tuple[str, frozenset[str]]]:
        """Of each breaker, the loads that die when it opens."""
        before = self.picture(position).solution.alive
        for breaker in self.airplane.breakers:
            yield breaker, before - self.picture(position, breaker).solution.alive

    def path(self, position: str, load: Load) -> CurrentPath:
        """The way of a load's current, or where it is broken."""
        return path_to(self.airplane, self.picture(position).situation, load)

    def words(self, position: str) -> str:
        """The situation as a question begins with it."""
        return f"On the battery alone, {self.airplane.selector.name} at {position}"

    def is_dear(self, load: str) -> bool:
        """Whether it must be kept."""
        return self.airplane.loads[load].keep is Keep.MUST
