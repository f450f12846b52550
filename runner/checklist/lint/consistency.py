"""Consistency: where a check contradicts the airplane that it is for, with the path through the buses."""

from collections.abc import Iterator
from pathlib import Path

from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check
from runner.checklist.lint.branch import Branch, branches, in_words
from runner.checklist.lint.claim import Step, steps
from runner.checklist.lint.coverage import coverage, selects_reserve
from runner.checklist.lint.finding import Finding, Grade, found
from runner.checklist.lint.scene import Scene
from runner.checklist.lint.truth import judge_claims, judge_clock, judge_reading, judge_switches
from runner.document import nearest
from runner.errors import Place


def contradictions(check: Check, airplane: Airplane) -> tuple[Finding, ...]:
    """Every contradiction, in the order of the file; errors are reasons not to run the check."""
    top = Place(check.items[0].place.path, 1, 1)
    if Path(check.airplane).name.removesuffix(".yaml") != airplane.name:
        message = f'the check is for "{check.airplane}", not for "{airplane.name}"; load the right airplane'
        return (Finding(top, Grade.ERROR, message),)
    unknown = tuple(_unknown_positions(check, airplane))
    if unknown:
        return unknown
    findings = dict.fromkeys((*_in_branches(check, airplane), *_gaps(check, airplane, top)))
    return tuple(sorted(findings, key=lambda finding: (finding.place.line, finding.place.column)))


def _unknown_positions(check: Check, airplane: Airplane) -> Iterator[Finding]:
    known = airplane.selector.positions
    for item in check.items:
        if item.body.selects not in (None, *known):
            advice = nearest(item.body.selects or "", known, "positions")
            message = f'the {airplane.selector.name} has no position "{item.body.selects}"; {advice}'
            yield found(check, item, Grade.ERROR, message)


def _in_branches(check: Check, airplane: Airplane) -> Iterator[Finding]:
    scene = Scene(check, airplane)
    for branch in branches(check):
        way = tuple(steps(check, branch, airplane.selector.parked))
        for step in way:
            yield from judge_claims(scene, step)
            yield from judge_clock(scene, step, way)
            yield from judge_reading(scene, step)
            yield from judge_switches(scene, step)
        yield from _ending(scene, way, branch)


def _ending(scene: Scene, way: tuple[Step, ...], branch: Branch) -> Iterator[Finding]:
    """The selector must end where the airplane is left."""
    selector = scene.airplane.selector
    last = next((step for step in reversed(way) if step.before != step.after), way[-1])
    if last.after != selector.parked:
        message = (
            f'leaves the {selector.name} in "{last.after}"{in_words(branch)}, '
            f'but it is parked in "{selector.parked}"; restore it with "selects: {selector.parked}"'
        )
        yield scene.error(last.item, message)


def _gaps(check: Check, airplane: Airplane, top: Place) -> Iterator[Finding]:
    """Loads of the reserve that no item proves, shed buses that no item sees dead: a check may be partial.

    A check that leaves the reserve alone has another purpose, and owes it nothing.
    """
    if not selects_reserve(check, airplane):
        return
    covered = coverage(check, airplane)
    scene = Scene(check, airplane)
    for load in covered.unproved:
        path = scene.path(load, airplane.selector.reserve)
        message = f'no item proves "{load}", which the reserve must carry ({path}); add it to "proves"'
        yield Finding(top, Grade.WARNING, message)
    for bus in covered.unwitnessed:
        message = f'no item sees that the {bus} is shed; add a "dead" item for one of its loads'
        yield Finding(top, Grade.WARNING, message)
