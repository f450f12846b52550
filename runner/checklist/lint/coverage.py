"""Coverage: which loads of the reserve a check proves, and which shed buses it sees to be dead."""

from collections.abc import Iterable
from dataclasses import dataclass

from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.life.lively import Life
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import everything_works, on_battery
from runner.airplane.model.wiring import Phase
from runner.checklist.format.check import Check
from runner.checklist.lint.branch import branches
from runner.checklist.lint.claim import Claim, claims, loads_of, steps


@dataclass(frozen=True, slots=True)
class Duty:
    """What a check of an airplane has to show."""

    loads: tuple[str, ...]
    """Woken by the reserve position, and running during a check."""
    not_run: tuple[str, ...]
    """Woken by it, but not to be run in a check (their duty there is 0)."""
    buses: tuple[str, ...]
    """Shed by it, with loads to tell by."""


@dataclass(frozen=True, slots=True)
class Coverage:
    """What of its duty a check fulfils, whatever is answered on the way."""

    proved: tuple[str, ...]
    unproved: tuple[str, ...]
    not_run: tuple[str, ...]
    witnessed: tuple[str, ...]
    """Shed buses of which a load is seen dead."""
    unwitnessed: tuple[str, ...]

    @property
    def share(self) -> float:
        """Loads proved and buses witnessed over all that there are, 0 to 1; 1 where there are none."""
        done = len(self.proved) + len(self.witnessed)
        whole = done + len(self.unproved) + len(self.unwitnessed)
        return done / whole if whole else 1.0


def duty_of(airplane: Airplane) -> Duty:
    """Loads to prove and buses to witness, each in the order of the airplane file."""
    network, selector = LifeNetwork(airplane), airplane.selector
    reserve = network.solve(on_battery(airplane, selector.reserve))
    parked = network.solve(on_battery(airplane, selector.parked))
    normal = network.solve(everything_works(airplane))
    woken = [load for load in airplane.loads.values() if load.name in reserve.alive - parked.alive]
    peopled = {feed.bus for load in airplane.loads.values() for feed in load.feeds}
    shed = normal.carriers.keys() - reserve.carriers.keys()
    return Duty(
        tuple(load.name for load in woken if load.duty[Phase.CHECK] > 0),
        tuple(load.name for load in woken if load.duty[Phase.CHECK] == 0),
        tuple(bus for bus in airplane.buses if bus in shed & peopled),
    )


def selects_reserve(check: Check, airplane: Airplane) -> bool:
    """Whether any action of the check moves the selector to the reserve."""
    return any(item.body.selects == airplane.selector.reserve for item in check.items)


def coverage(check: Check, airplane: Airplane) -> Coverage:
    """What the check shows in the reserve position in every one of its branches."""
    duty, reserve = duty_of(airplane), airplane.selector.reserve
    shown = [
        [
            claim
            for step in steps(check, branch, airplane.selector.parked)
            if step.after == reserve
            for claim in claims(step, airplane)
        ]
        for branch in branches(check)
    ]
    proved = frozenset.intersection(*(_alive(airplane, each) for each in shown))
    witnessed = frozenset.intersection(*(_dead_buses(airplane, each) for each in shown))
    return Coverage(
        tuple(load for load in duty.loads if load in proved),
        tuple(load for load in duty.loads if load not in proved),
        duty.not_run,
        tuple(bus for bus in duty.buses if bus in witnessed),
        tuple(bus for bus in duty.buses if bus not in witnessed),
    )


def _alive(airplane: Airplane, shown: Iterable[Claim]) -> frozenset[str]:
    return frozenset(
        load for claim in shown if claim.life is Life.ALIVE for load in loads_of(airplane, claim.name)
    )


def _dead_buses(airplane: Airplane, shown: Iterable[Claim]) -> frozenset[str]:
    return frozenset(
        feed.bus
        for claim in shown
        if claim.life is Life.DEAD
        for load in loads_of(airplane, claim.name)
        for feed in airplane.loads[load].feeds
    )
