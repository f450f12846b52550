"""Suspects: the single failures that explain what was seen, ranked, and the next look that tells most.

The priors are ours: how often each kind of failure is met before the first flight, relative to each other. No
statistics of any fleet stand behind them, and every answer that shows them says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import log2
from typing import Final

from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import on_battery
from runner.checklist.lint.claim import Step
from runner.fault.cut import cut_sets
from runner.fault.fault import Fault, Kind, ailing, faults_of
from runner.fault.fault_walk import answers, looks_at
from runner.fault.look import Look, Seen, Sight, looks_of

PRIOR: Final = {
    Kind.BULB_OUT: 6.0,
    Kind.BREAKER_OUT: 4.0,
    Kind.DEAD: 3.0,
    Kind.SLOW: 3.0,
    Kind.NOT_CLOSING: 2.0,
    Kind.WEAK_CELL: 2.0,
    Kind.WELDED: 1.0,
    Kind.BROKEN: 1.0,
    Kind.SHORTED: 0.5,
    Kind.MISWIRED: 0.5,
    Kind.STUCK: 0.5,
}
"""Relative weights; ours."""
MISREAD: Final = 0.03
"""Chance that a look is misread; ours."""
VOLT_STEP: Final = 2
"""Readings that differ by less than half a volt are not told apart."""


WORTH_MOVING: Final = 1.01
"""How much more a look must tell to be taken instead of one before it; ours."""


@dataclass(frozen=True, slots=True)
class ToldSign:
    """What an item was answered."""

    item: str
    answer: str | None
    """In the words of a walk; None when it is only known to be unusual."""
    is_usual: bool = False
    """As in a healthy airplane; stands when there is no answer."""


@dataclass(frozen=True, slots=True)
class Suspect:
    """A possible failure."""

    fault: Fault
    probability: float
    """Among single failures, by priors of ours; 0 to 1."""


@dataclass(frozen=True, slots=True)
class NextLook:
    """A look and what it would tell."""

    look: Look
    bits: float
    """Expected information."""
    outcomes: Mapping[str, tuple[Fault, ...]]
    """What would be seen under each of the suspects."""


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Where to look next."""

    suspects: tuple[Suspect, ...]
    """The likeliest first; empty when nothing unusual was told."""
    next_look: NextLook | None
    shared: tuple[str, ...]
    """Sources, links, breakers and buses without which everything that was seen dead is dead."""


def diagnose(airplane: Airplane, way: tuple[Step, ...], told: Iterable[ToldSign]) -> Diagnosis:
    """Single failures that explain the answers of one way through a check."""
    known = {each.item: each for each in told}
    usual = dict(answers(way, Seen(ailing(airplane))))
    unusual = [
        name for name, each in known.items() if name in usual and not _fits(each, usual[name], usual[name])
    ]
    if not unusual:
        return Diagnosis((), None, ())
    seen = {fault: Seen(ailing(airplane, fault)) for fault in faults_of(airplane)}
    weights = {
        fault: PRIOR[fault.kind] * _likelihood(dict(answers(way, each)), usual, known)
        for fault, each in seen.items()
    }
    total = sum(weights.values())
    ranked = sorted(weights, key=lambda fault: (-weights[fault], faults_order(fault)))
    suspects = tuple(Suspect(fault, weights[fault] / total) for fault in ranked)
    return Diagnosis(
        suspects,
        next_look(airplane, suspects, seen, _asked(airplane, way, known)),
        _shared(airplane, way, unusual),
    )


def faults_order(fault: Fault) -> tuple[str, str, str]:
    """A fixed order for failures that are equally likely."""
    return fault.kind, fault.name, fault.part


def _fits(told: ToldSign, predicted: str, usual: str) -> bool:
    if told.answer is not None:
        return told.answer == predicted
    return (predicted == usual) == told.is_usual


def _likelihood(
    predicted: Mapping[str, str], usual: Mapping[str, str], known: Mapping[str, ToldSign]
) -> float:
    likelihood = 1.0
    for name, told in known.items():
        if name in usual:
            likelihood *= 1 - MISREAD if _fits(told, predicted.get(name, ""), usual[name]) else MISREAD
    return likelihood


def _asked(
    airplane: Airplane, way: tuple[Step, ...], known: Mapping[str, ToldSign]
) -> frozenset[tuple[str, str]]:
    """(Position, name) that the check has looked at already."""
    steps = [step for step in way if step.item.name in known]
    return frozenset((step.after, look.name) for step in steps for look in looks_at(step, airplane))


def next_look(
    airplane: Airplane,
    suspects: tuple[Suspect, ...],
    seen: Mapping[Fault, Seen],
    asked: frozenset[tuple[str, str]] = frozenset(),
) -> NextLook | None:
    """The look with the most expected information about the suspects; None when none tells anything.

    Of those that tell nearly as much, one on the reserve: the selector stands there, or stood there last.
    """
    best: NextLook | None = None
    reserve = airplane.selector.reserve
    for look in sorted(looks_of(airplane), key=lambda look: look.position != reserve):
        if (look.position, look.name) in asked or (look.sight is Sight.FLAG and _has_flag(asked, look)):
            continue
        shown = {each.fault: _coarse(look, seen[each.fault]) for each in suspects}
        bits = information(suspects, shown)
        if bits > 1e-6 and (best is None or bits > best.bits * WORTH_MOVING):  # noqa: PLR2004 - rounding
            best = NextLook(look, bits, _outcomes(suspects, shown))
    return best


def _has_flag(asked: frozenset[tuple[str, str]], look: Look) -> bool:
    """Whether the gyro was timed already, in whatever position."""
    return any(name == look.name for _, name in asked)


def information(suspects: Iterable[Suspect], shown: Mapping[Fault, str]) -> float:
    """Bits expected from a look: entropy of what is seen, less that of misreading it now and then."""
    kinds = sorted(set(shown.values()))
    if len(kinds) < 2:  # noqa: PLR2004 - one outcome tells nothing
        return 0.0
    wrong = MISREAD / (len(kinds) - 1)
    chances = dict.fromkeys(kinds, 0.0)
    for each in suspects:
        for kind in kinds:
            chances[kind] += each.probability * (1 - MISREAD if shown[each.fault] == kind else wrong)
    noise = [1 - MISREAD, *[wrong] * (len(kinds) - 1)]
    return _entropy(chances.values()) - _entropy(noise)


def _entropy(chances: Iterable[float]) -> float:
    return -sum(each * log2(each) for each in chances if each > 0)


def _coarse(look: Look, seen: Seen) -> str:
    if look.sight is Sight.VOLTS:
        return f"about {round(float(seen.volts(look.position)) * VOLT_STEP) / VOLT_STEP:g} V"
    return seen.at(look)


def _outcomes(suspects: tuple[Suspect, ...], shown: Mapping[Fault, str]) -> Mapping[str, tuple[Fault, ...]]:
    likely = [each.fault for each in suspects if each.probability > MISREAD]
    return {
        kind: found
        for kind in dict.fromkeys(shown[fault] for fault in likely)
        if (found := tuple(fault for fault in likely if shown[fault] == kind))
    }


def _shared(airplane: Airplane, way: tuple[Step, ...], unusual: list[str]) -> tuple[str, ...]:
    """What all loads of the unusual items hang on, in the position in which they were looked at."""
    common: set[str] | None = None
    for step in way:
        if step.item.name in unusual:
            for load in (name for name in step.item.proves if name in airplane.loads):
                situation = on_battery(airplane, step.after)
                single = {name for cut in cut_sets(airplane, situation, load, most=1) for name in cut}
                single |= {feed.bus for feed in airplane.loads[load].feeds}
                common = single if common is None else common & single
    return tuple(sorted(common or ()))
