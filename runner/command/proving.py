"""What `eyesout lint --prove` prints: how much was seen, and the shortest way to each violation."""

from collections.abc import Iterator
from dataclasses import dataclass
from time import process_time

from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check
from runner.core.plan import plan_on_ground
from runner.prove.alike import HISTORY, MOST_PUT_OFF
from runner.prove.proof import Proof, prove

BOUNDS = f"at most {MOST_PUT_OFF} item put off at a time, {HISTORY} correction in a row from every state"


@dataclass(frozen=True, slots=True)
class TimedProof:
    """A proof with the processor's seconds that it took."""

    proof: Proof
    seconds: float


def timed_proof(check: Check, airplane: Airplane | None) -> TimedProof:
    """Walk the check on the ground, with a battery that never warns: time is no part of the walk."""
    plan = plan_on_ground(check, "" if airplane is None else airplane.selector.parked)
    began = process_time()
    proof = prove(plan)
    return TimedProof(proof, process_time() - began)


def proof_lines(timed: TimedProof) -> Iterator[str]:
    """For people."""
    proof = timed.proof
    yield (
        f"walked {proof.states:,} states and {proof.steps:,} steps, {proof.ends} of them ends, "
        f"in {timed.seconds:.0f} s ({BOUNDS})"
    )
    if not proof.violations:
        yield "proved: nothing moved is left unasked, each item can fail, each state has a way to an end"
    for violation in proof.violations:
        yield f"violation: {violation.message}"
        yield from (f"    {number:2d}  {step}" for number, step in enumerate(violation.way, start=1))


def proof_as_json(timed: TimedProof) -> dict[str, object]:
    """For programs."""
    proof = timed.proof
    return {
        "states": proof.states,
        "steps": proof.steps,
        "ends": proof.ends,
        "seconds": round(timed.seconds, 1),
        "violations": [{"message": each.message, "way": list(each.way)} for each in proof.violations],
    }
