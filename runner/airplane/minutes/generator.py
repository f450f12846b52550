"""Generators against their load: AC 43.13-1B Chg 1 paragraph 11-35 a, the 80 % rule of thumb.

The paragraph calls it "strictly a rule of thumb", not to be confused with an electrical load analysis.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import everything_works
from runner.airplane.model.source import Generator
from runner.airplane.model.wiring import Phase

CONTINUOUS_SHARE: Final = 0.80


@dataclass(frozen=True, slots=True)
class Loading:
    """What the rest must carry when some generators are lost."""

    lost: str
    """The generator that is lost; empty when all work."""
    generator: str
    amps: float
    rated_amps: float

    @property
    def is_over(self) -> bool:
        """Whether the continuous load is over 80 % of the rating."""
        return exceeds_rule_of_thumb(self.amps, self.rated_amps)


def exceeds_rule_of_thumb(continuous_amps: float, rated_amps: float) -> bool:
    """Whether a continuous load is over 80 % of a generator's output (AC 43.13-1B 11-35 a)."""
    return continuous_amps > CONTINUOUS_SHARE * rated_amps


def loadings(airplane: Airplane, phase: Phase = Phase.CRUISE) -> tuple[Loading, ...]:
    """Every generator's load in a phase, first with all generators, then with each one lost in turn."""
    network = LifeNetwork(airplane, phase)
    generators = [source for source in airplane.sources.values() if isinstance(source, Generator)]
    carts = airplane.other_sources - {source.name for source in generators}
    found: list[Loading] = []
    for lost in ("", *(source.name for source in generators)):
        gone = carts | ({lost} if lost else set())
        solution = network.solve(replace(everything_works(airplane), lost=frozenset(gone)))
        found += [
            Loading(lost, source.name, solution.source_amps[source.name], source.amps)
            for source in generators
            if source.name != lost
        ]
    return tuple(found)
