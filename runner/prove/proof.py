"""The proof: what a walk over every moment of a run shows of a check, and the shortest way to what it breaks.

Shown: the machine never breaks; no run ends with something moved and not asked back since; none is completed
with a danger passed by; every answer is on record as what the check says it means; each item is asked, and
can fail or be refused; from each moment an end can be reached.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from runner.checklist.format.check import Item
from runner.core.grid.machine import Machine
from runner.core.plan import Plan
from runner.core.record.entry import AbandonStarted, AnswerRecorded, ClockEnded, DeclaredUnable, Stopped
from runner.core.state import State
from runner.language.catalogue import Outcome
from runner.prove.alike import MOST_PUT_OFF
from runner.prove.walk import Walk, walk


@dataclass(frozen=True, slots=True)
class Violation:
    """Something that a check or the machine must not do."""

    message: str
    way: tuple[str, ...] = ()
    """What the pilot said and what happened, from the start, as short as can be; empty where no way leads."""


@dataclass(frozen=True, slots=True)
class Proof:
    """What was seen and what was found."""

    states: int
    """Moments of different kinds."""
    steps: int
    ends: int
    violations: tuple[Violation, ...]


def prove(
    plan: Plan, make: type[Machine] = Machine, put_off: int = MOST_PUT_OFF, *, is_exact: bool = False
) -> Proof:
    """Walk a check with so many items put off at a time at most.

    `make` may be another machine than the real one, to see that the proof notices.
    """
    walked = walk(plan, make, put_off, is_exact=is_exact)
    return Proof(
        len(walked.points),
        sum(map(len, walked.following)),
        sum(1 for _ in walked.ends()),
        (
            *_breaks(walked),
            *_unreturned(walked),
            *_passed_by(walked),
            *_misjudged(walked),
            *_unfailing(walked),
            *_endless(walked),
        ),
    )


def _breaks(walked: Walk) -> Iterator[Violation]:
    """The first break of each kind."""
    told: set[str] = set()
    for failure in walked.failures:
        message = f"the machine breaks: {failure.error!r}"
        if message not in told:
            told.add(message)
            yield Violation(message, (*walked.way(failure.parent), failure.words))


def _unreturned(walked: Walk) -> Iterator[Violation]:
    """The shortest way for each set of things left; points come in the order of their distance."""
    told: set[frozenset[str]] = set()
    for number in walked.ends():
        left = walked.points[number].owing.out
        if left and left not in told:
            told.add(left)
            names = " and ".join(f'"{name}"' for name in sorted(left))
            message = f"a run ends ({walked.state(number)}) with {names} moved and not asked back"
            yield Violation(message, walked.way(number))


def _passed_by(walked: Walk) -> Iterator[Violation]:
    """The shortest way to a completed run for each set of dangers that nobody remedied."""
    told: set[frozenset[str]] = set()
    for number in walked.ends():
        dangers = walked.points[number].owing.dangers
        if walked.state(number) is State.COMPLETE and dangers and dangers not in told:
            told.add(dangers)
            names = " and ".join(f'"{name}"' for name in sorted(dangers))
            yield Violation(f"a run is completed past the danger of {names}", walked.way(number))


def _misjudged(walked: Walk) -> Iterator[Violation]:
    """Answers on record with another outcome than the check gives them."""
    for name, answer, outcome in sorted(walked.judged):
        meant = _meaning(walked.plan.check.item(name), answer)
        if outcome is not meant:
            yield Violation(f'item "{name}": "{answer}" is on record as {outcome}, and means {meant}')


def _meaning(item: Item, answer: str) -> Outcome | None:
    if item.body.number is not None:
        return item.body.number.outcome(Decimal(answer))
    return next((each.outcome for each in item.responses if each.label == answer), None)


def _unfailing(walked: Walk) -> Iterator[Violation]:
    """Items that the walk never saw fail or, where they judge nothing, refused or the check abandoned."""
    failing = {
        item
        for kind, item, _, outcome in walked.entries
        if kind is Stopped or (kind in (AnswerRecorded, ClockEnded) and outcome is not Outcome.PASS)
    }
    refused = {
        asked if kind is AbandonStarted else item
        for kind, item, asked, _ in walked.entries
        if kind in (DeclaredUnable, AbandonStarted)
    }
    for item in walked.plan.check.items:
        is_judged = not (item.body.is_deed or item.body.is_fork or item.body.is_call)
        if item.name not in failing and (is_judged or item.name not in refused):
            yield Violation(f'item "{item.name}" can never fail: it is never asked, or every answer passes')


def _endless(walked: Walk) -> Iterator[Violation]:
    """The nearest moment from which no end can be reached."""
    before: list[list[int]] = [[] for _ in walked.points]
    for number, following in enumerate(walked.following):
        for other in following:
            before[other].append(number)
    for number, other in (*walked.twins.items(), *walked.covered):
        before[other].append(number)
    unvisited = list(walked.ends())
    reached = set(unvisited)
    while unvisited:
        fresh = [number for number in before[unvisited.pop()] if number not in reached]
        reached.update(fresh)
        unvisited += fresh
    stuck = next((number for number in range(len(walked.points)) if number not in reached), None)
    if stuck is not None:
        yield Violation(f"no end can be reached from here ({walked.state(stuck)})", walked.way(stuck))
