"""Claims: what each item says of the airplane, in the selector position in which it is asked."""

from collections.abc import Iterator
from dataclasses import dataclass

from runner.airplane.life.lively import Life
from runner.airplane.life.neighbour import loads_behind
from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check, Item
from runner.checklist.lint.branch import Branch, applies


@dataclass(frozen=True, slots=True)
class Step:
    """One item on the way through a branch."""

    item: Item
    before: str
    """Selector position when the item is asked."""
    after: str
    """Selector position once it is answered."""


@dataclass(frozen=True, slots=True)
class Claim:
    """One thing that an item says to be alive or dead."""

    step: Step
    name: str
    """A load, an instrument or a part of one."""
    life: Life
    """ALIVE or DEAD."""


def steps(check: Check, branch: Branch, parked: str) -> Iterator[Step]:
    """The items asked in a branch, with the selector moving as they say, from where it is parked."""
    position = parked
    for item in check.items:
        if applies(item, branch):
            before, position = position, item.body.selects or position
            yield Step(item, before, position)


def claims(step: Step, airplane: Airplane) -> Iterator[Claim]:
    """What the item says; a clock says that its gyro's load is alive."""
    clock = step.item.body.clock
    if clock is not None and clock.gyro in airplane.gyros:
        yield Claim(step, airplane.gyros[clock.gyro].load, Life.ALIVE)
    alive, dead = step.item.body.shows(step.item.proves)
    yield from (Claim(step, name, Life.ALIVE) for name in alive)
    yield from (Claim(step, name, Life.DEAD) for name in dead)


def loads_of(airplane: Airplane, name: str) -> frozenset[str]:
    """The loads behind a name; none for a name that the airplane does not have."""
    try:
        return loads_behind(airplane, name)
    except KeyError:
        return frozenset()
