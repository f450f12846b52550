"""Whether a dead item is judged with the load's own switch on, as the airplane file names it."""

from collections.abc import Iterator

from runner.airplane.model import Airplane
from runner.airplane.neighbour import loads_behind
from runner.checklist.body import NOTHING
from runner.checklist.claim import Step
from runner.checklist.finding import Finding
from runner.checklist.model import Dead
from runner.checklist.scene import Scene


def judge_switches(scene: Scene, step: Step) -> Iterator[Finding]:
    """Findings for a dead item whose `on` is not what the airplane file says; none for other items."""
    body = step.item.body
    if not isinstance(body, Dead):
        return
    needed = switches_of(scene.airplane, body.loads)
    named = tuple(body.switches)
    for load, switch in needed.items():
        if switch not in named:
            found = ", ".join(named) or NOTHING
            message = (
                f'"{load}" has a switch of its own in the airplane file, and off it is dead anyway; '
                f'write "on: {switch}" instead of "on: {found}", and move it'
            )
            yield scene.error(step.item, message)
    for switch in named:
        if not needed:
            message = (
                f"the airplane file knows no switch of {', '.join(body.loads)}; "
                f'write "switch: {switch}" there, or "on: {NOTHING}" here'
            )
            yield scene.warning(step.item, message)


def switches_of(airplane: Airplane, names: tuple[str, ...]) -> dict[str, str]:
    """The switch of each load behind the names that has one; a name that the airplane lacks has none."""
    found: dict[str, str] = {}
    for name in names:
        try:
            loads = loads_behind(airplane, name)
        except KeyError:
            continue
        for load in sorted(loads):
            switch = airplane.loads[load].switch
            if switch is not None:
                found[load] = switch
    return found
