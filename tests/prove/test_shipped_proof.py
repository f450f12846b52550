"""The shipped checks, and those derived from the shipped airplanes, proved with nothing put off.

`.ci/run` proves them with all that `eyesout lint --prove` walks, which takes longer.
"""

from pathlib import Path

import pytest

from runner.airplane.model.airplane import Airplane
from runner.checklist.derive.derived_check import derive
from runner.checklist.format.check import Check
from runner.checklist.format.check_load import parse_check
from runner.core.plan import plan_on_ground
from runner.prove.proof import prove
from tests.checklist.shipped import shipped_airplane, shipped_check

AIRPLANES = {"merlow-reserve": "merlow-ml2", "pellow-reserve": "pellow-jv62", "tarn-reserve": "tarn-qx83"}


def violations(check: Check, airplane: Airplane) -> list[str]:
    """What the walk finds wrong."""
    proof = prove(plan_on_ground(check, airplane.selector.parked), put_off=0)
    assert proof.states > 500
    return [violation.message for violation in proof.violations]


@pytest.mark.timeout(300)
@pytest.mark.parametrize(("check", "airplane"), AIRPLANES.items(), ids=AIRPLANES.keys())
def test_the_shipped_checks_are_proved(check: str, airplane: str) -> None:
    """Nothing moved is left unasked, each item can fail, from each state an end can be reached."""
    assert violations(shipped_check(check), shipped_airplane(airplane)) == []


@pytest.mark.timeout(300)
@pytest.mark.parametrize("stem", AIRPLANES.values())
def test_derived_checks_are_proved(stem: str) -> None:
    """So are those that `eyesout derive` writes."""
    airplane = shipped_airplane(stem)
    assert violations(parse_check(derive(airplane), Path("derived.yaml")), airplane) == []


def test_a_check_of_no_airplane_is_proved() -> None:
    """What it moves comes back too, with one item put off at a time."""
    proof = prove(plan_on_ground(shipped_check("walk-round")))
    assert proof.ends
    assert proof.violations == ()
