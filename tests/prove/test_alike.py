"""What is taken for alike loses nothing: the short walk finds what the exact one finds, fault by fault."""

import re
from dataclasses import replace

import networkx as nx
import pytest

from runner.checklist.format.check import Condition
from runner.checklist.kind.action import Action
from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.plan import Plan
from runner.core.record.entry import AnswerRecorded, CautionsTaken, Entry, PutOff, Reopened, RunStarted
from runner.core.record.fold import fold
from runner.core.state import State
from runner.language.catalogue import Outcome
from runner.prove.alike import roles_of
from runner.prove.happening import NOW
from runner.prove.owing import Owing
from runner.prove.proof import Proof, prove
from runner.prove.walk import walk
from tests.prove.faulty import MACHINES
from tests.prove.small import ALL, BACK, CALL, DIM, GYRO, LAMPS, PEOPLE, RESERVE, answer, item, plan_of

SHORT = plan_of(PEOPLE, RESERVE, GYRO, replace(LAMPS, critical=False), DIM, BACK, CALL)
"""With an item that moves something and may be put off."""


def given(name: str, label: str) -> AnswerRecorded:
    """A named answer on record."""
    outcome = Outcome.SQUAWK if label == "dimmer jammed" else Outcome.PASS
    origin = AnswerOrigin(NOW, 2.0, is_hasty=False, reception=Reception(label, 1.0, "keys"))
    return AnswerRecorded(NOW, name, label, "", outcome, origin)


def messages(proof: Proof) -> set[str]:
    """What is wrong, without the ways."""
    return {violation.message for violation in proof.violations}


def sorts(proof: Proof) -> set[str]:
    """What is wrong, without the items that it is about."""
    return {re.sub(r'".*"|\(\'.*', "", message) for message in messages(proof)}


LONG = ("none", "the caution swallowed", "returns lost by AnswerRecorded", "one return lost by Released")
"""Machines that are walked exactly with all roles too, which takes half a minute each."""


@pytest.mark.parametrize(
    ("fault", "plan"),
    [*((fault, SHORT) for fault in MACHINES), *((fault, plan_of(*ALL)) for fault in LONG)],
    ids=[*(f"put off-{fault}" for fault in MACHINES), *(f"all roles-{fault}" for fault in LONG)],
)
def test_the_short_walk_finds_what_the_exact_one_finds(fault: str, plan: Plan) -> None:
    """The same violations of the same machine; where one lost return hides another, the same sorts."""
    short, exact = prove(plan, MACHINES[fault]), prove(plan, MACHINES[fault], is_exact=True)
    assert sorts(short) == sorts(exact)
    assert messages(short) <= messages(exact)
    assert fault.startswith("one return lost") or messages(short) == messages(exact)


@pytest.mark.parametrize("fault", sorted(MACHINES.keys() - {"none"}))
def test_each_fault_is_found(fault: str) -> None:
    """By the short walk."""
    assert messages(prove(plan_of(*ALL), MACHINES[fault])) | messages(prove(SHORT, MACHINES[fault]))


def test_a_danger_passed_by_is_told_with_its_item() -> None:
    """By the shortest way to the completion call."""
    found = prove(plan_of(PEOPLE, CALL), MACHINES["a stop passed"]).violations
    (violation,) = (each for each in found if "danger" in each.message)
    assert violation.message == 'a run is completed past the danger of "people"'
    assert violation.way == ("(the run is started)", "continue", "somebody", "check complete")


def test_an_answer_on_record_as_something_else_is_told() -> None:
    """A caution that is written down as a pass."""
    found = messages(prove(plan_of(*ALL), MACHINES["the caution swallowed"]))
    assert any(" is on record as pass, and means caution" in message for message in found)


def test_the_short_walk_is_short() -> None:
    """Of what the exact one walks it leaves out most."""
    assert prove(plan_of(*ALL)).steps * 3 < prove(plan_of(*ALL), is_exact=True).steps


def test_an_end_can_be_reached_from_every_point_of_the_short_walk() -> None:
    """networkx: ancestors of the ends, where twins and covered moments go on as those that stand for them."""
    walked = walk(plan_of(*ALL))
    steps = [(number, other) for number, following in enumerate(walked.following) for other in following]
    graph = nx.DiGraph([*steps, *walked.twins.items(), *walked.covered])
    before = set().union(*(nx.ancestors(graph, end) for end in walked.ends()))
    assert before | set(walked.ends()) == set(range(len(walked.points)))


def test_every_state_is_met_by_the_short_walk() -> None:
    """All but the one before the start."""
    walked = walk(plan_of(*ALL))
    assert {walked.state(number) for number in range(len(walked.points))} == set(State) - {State.READY}


def test_a_stale_answer_that_something_hangs_on_tells_moments_apart() -> None:
    """Lamps are put off and come back behind the return of what they move, which is open again then.

    Its old answer still decides what is asked while the return is put off.
    """
    jammed = Action((answer("dimmer down"), answer("dimmer jammed", Outcome.SQUAWK)))
    dim = replace(DIM, body=jammed, critical=False)
    knob = replace(item("knob", LAMPS.body), when=Condition("dim", ("dimmer jammed",)))
    plan = plan_of(replace(LAMPS, critical=False), dim, knob, CALL)
    begun: list[Entry] = [RunStarted(NOW), CautionsTaken(NOW), PutOff(NOW, "lamps")]
    down = [*begun, given("dim", "dimmer down"), given("lamps", "both lit")]
    back = [given("dim", "dimmer jammed"), given("knob", "both lit"), given("lamps", "both lit")]
    again: list[Entry] = [Reopened(NOW, "lamps"), Reopened(NOW, "knob"), given("lamps", "both lit")]
    progresses = [fold(plan, down), fold(plan, [*begun, *back, *again])]
    assert all("dim" in each.moved_since and "knob" not in each.answers for each in progresses)
    one, other = (roles_of(plan).kind(each, Owing()) for each in progresses)
    assert one != other
