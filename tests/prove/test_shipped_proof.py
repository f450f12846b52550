"""The shipped checks, and those derived from the shipped airplanes, proved with nothing put off.

`.ci/run` proves them with all that `eyesout lint --prove` walks, which takes longer.
"""

from pathlib import Path

import pytest

from runner.airplane.model import Airplane
from runner.checklist.derive import derive
from runner.checklist.load import parse_check
from runner.checklist.model import Check
from runner.core.plan import Plan
from runner.prove.proof import prove
from tests.checklist.shipped import shipped_airplane, shipped_check

AIRPLANES = {"merlow-reserve": "merlow-ml2", "tarn-reserve": "tarn-t1"}


def violations(check: Check, airplane: Airplane) -> list[str]:
    """What the walk finds wrong."""
    plan = Plan(check, airplane.selector.parked, {}, usable_ampere_hours=0.0, warn_share=0.0)
    proof = prove(plan, put_off=0)
    assert proof.states > 1000
    return [violation.message for violation in proof.violations]


@pytest.mark.timeout(600)
@pytest.mark.parametrize(("check", "airplane"), AIRPLANES.items(), ids=AIRPLANES.keys())
def test_the_shipped_checks_are_proved(check: str, airplane: str) -> None:
    """Nothing moved is left unasked, each item can fail, from each state an end can be reached."""
    assert violations(shipped_check(check), shipped_airplane(airplane)) == []


@pytest.mark.timeout(600)
@pytest.mark.parametrize("stem", AIRPLANES.values())
def test_derived_checks_are_proved(stem: str) -> None:
    """So are those that `eyesout derive` writes."""
    airplane = shipped_airplane(stem)
    assert violations(parse_check(derive(airplane), Path("derived.yaml")), airplane) == []
