"""A check walked on an airplane with faults: what each of its items would be answered."""

from __future__ import annotations

from collections.abc import Iterator

from runner.airplane.life.lively import Life
from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check
from runner.checklist.lint.branch import branches
from runner.checklist.lint.claim import Step, claims, steps
from runner.fault.look import Look, Seen, Sight

Answers = tuple[tuple[str, str], ...]
"""(Item, what is answered), for items that look at something."""


def walks(check: Check, airplane: Airplane) -> tuple[tuple[Step, ...], ...]:
    """The steps of each branch."""
    return tuple(tuple(steps(check, branch, airplane.selector.parked)) for branch in branches(check))


def answers(way: tuple[Step, ...], seen: Seen) -> Answers:
    """What each item of a way is answered, by what would be seen."""
    return tuple(
        (step.item.name, "; ".join(answer)) for step in way if (answer := tuple(_answer(step, seen)))
    )


def _answer(step: Step, seen: Seen) -> Iterator[str]:
    airplane, number = seen.ailing.airplane, step.item.body.number
    if number is not None:
        if airplane.voltmeter.name in step.item.proves:
            yield str(number.outcome(seen.volts(step.after)))
        return
    for look in looks_at(step, airplane):
        yield seen.at(look)


def looks_at(step: Step, airplane: Airplane) -> Iterator[Look]:
    """What an item makes one look at: a flag for a clock, bulbs for a lamp's load, else life.

    A voltmeter that is looked at and not read off is compared with what it showed at rest.
    """
    clock = step.item.body.clock
    if clock is not None:
        if clock.gyro in airplane.gyros:
            yield Look(step.after, Sight.FLAG, clock.gyro)
        return
    lamps = {lamp.load: lamp.name for lamp in airplane.lamps.values()}
    for claim in claims(step, airplane):
        if claim.name in lamps and claim.life is Life.ALIVE:
            yield Look(step.after, Sight.BULBS, lamps[claim.name])
        else:
            yield Look(step.after, Sight.LIFE, claim.name)
            if claim.name == airplane.voltmeter.name and step.after != airplane.selector.parked:
                yield Look(step.after, Sight.SWING, claim.name)
