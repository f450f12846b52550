"""Suspects of a run: which single failure explains its answers, and where to look next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check, Item
from runner.checklist.lint.branch import applies, branches
from runner.checklist.lint.claim import Step, steps
from runner.core.record.given_answer import GivenAnswer
from runner.fault.diagnosis import Diagnosis, ToldSign, diagnose
from runner.fault.fault_walk import looks_at
from runner.language.catalogue import Outcome

MOST_SHOWN: Final = 6
LEAST_SHOWN: Final = 0.05
"""What is less likely is not named."""
PRIORS: Final = "probabilities rest on priors of ours and on one failure only; maintenance decides"


def diagnosis_of(check: Check, airplane: Airplane, given: Mapping[str, GivenAnswer]) -> Diagnosis:
    """What the answers that stand in a run point at."""
    way = _way(check, airplane, given)
    lamps = {lamp.load: lamp.bulbs for lamp in airplane.lamps.values()}
    counted = _counted(given)
    told = [
        _told(step, airplane, lamps, counted[step.item.name]) for step in way if step.item.name in counted
    ]
    return diagnose(airplane, way, told)


def _counted(given: Mapping[str, GivenAnswer]) -> Mapping[str, GivenAnswer]:
    """Answers that count: beside a squawk a caution is another story, and one failure explains one."""
    has_squawk = any(answer.outcome is Outcome.SQUAWK for answer in given.values())
    left_out = (None, Outcome.CAUTION) if has_squawk else (None,)
    return {item: answer for item, answer in given.items() if answer.outcome not in left_out}


def _way(check: Check, airplane: Airplane, given: Mapping[str, GivenAnswer]) -> tuple[Step, ...]:
    """The branch that most of the answers belong to."""
    best = max(
        branches(check),
        key=lambda branch: sum(item.name in given for item in check.items if applies(item, branch)),
    )
    return tuple(steps(check, best, airplane.selector.parked))


def _told(
    step: Step, airplane: Airplane, lamps: Mapping[str, tuple[str, ...]], answer: GivenAnswer
) -> ToldSign:
    item = step.item
    if item.body.number is not None:
        return ToldSign(item.name, str(answer.outcome))
    if item.body.clock is not None:
        return ToldSign(item.name, _flag(answer))
    bulbs = [bulb for load in item.proves for bulb in lamps.get(load, ())]
    if bulbs and len(tuple(looks_at(step, airplane))) == 1:
        return ToldSign(item.name, _bulbs(bulbs, answer), is_usual=answer.outcome is Outcome.PASS)
    return ToldSign(item.name, None, is_usual=answer.outcome is Outcome.PASS)


def _flag(answer: GivenAnswer) -> str:
    if answer.outcome is Outcome.SQUAWK:
        return "stays"
    return "pulls" if answer.outcome is Outcome.PASS else "late"


def _bulbs(bulbs: Iterable[str], answer: GivenAnswer) -> str | None:
    if answer.outcome is Outcome.PASS:
        return "all lit"
    named = [bulb for bulb in bulbs if bulb in answer.answer.split()]
    return f"{', '.join(named)} out" if named else None


def diagnosis_text(title: str, items: Iterable[Item], found: Diagnosis) -> str:
    """The whole answer, ready to print."""
    if not found.suspects:
        return f"{title}: nothing in its answers is unusual for its airplane\n"
    names = ", ".join(item.name for item in items)
    lines = [f"{title}: unusual {names}", "", f"SUSPECTS ({PRIORS})"]
    named = [each for each in found.suspects[:MOST_SHOWN] if each.probability >= LEAST_SHOWN]
    lines += [f"- {each.probability:5.0%}  {each.fault}" for each in named]
    if not named:
        lines.append("- no single failure explains these answers; several may be at work, or one was misread")
    lines += ["", *_next(found)]
    return "\n".join(lines) + "\n"


def _next(found: Diagnosis) -> Iterator[str]:
    if found.shared:
        yield f"all that is dead hangs on: {', '.join(found.shared)}"
    if found.next_look is None:
        yield "no other look from the seats tells these apart"
        return
    yield f"look next at {found.next_look.look} ({found.next_look.bits:.2f} bits expected)"
    for seen, faults in found.next_look.outcomes.items():
        yield f"  {seen}: {', '.join(map(str, faults))}"


def suspect_line(found: Diagnosis) -> str:
    """One line for a squawk: the likeliest failures and the next look."""
    named = [each for each in found.suspects[:3] if each.probability >= LEAST_SHOWN]
    if not named:
        return "no single failure explains these answers"
    likely = ", ".join(f"{each.fault} {each.probability:.0%}" for each in named)
    look = f"; look next at {found.next_look.look}" if found.next_look else ""
    return f"perhaps {likely}{look}"


def diagnosis_dict(found: Diagnosis) -> Mapping[str, object]:
    """The answer as plain data for JSON."""
    look = found.next_look
    return {
        "priors": PRIORS,
        "suspects": [
            {
                "fault": each.fault.kind,
                "name": each.fault.name,
                "part": each.fault.part,
                "probability": round(each.probability, 4),
            }
            for each in found.suspects
        ],
        "next_look": None
        if look is None
        else {
            "position": look.look.position,
            "at": look.look.name,
            "sight": look.look.sight,
            "bits": round(look.bits, 4),
            "outcomes": {seen: list(map(str, faults)) for seen, faults in look.outcomes.items()},
        },
        "shared": list(found.shared),
    }
