import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from runner.checklist.format.check_load import parse_check
from runner.checklist.lint.consistency import contradictions
from runner.checklist.lint.finding import Grade
from tests.checklist.shipped import FOLDER, edited_check, shipped_airplane, shipped_check

CONTRADICTIONS: dict[str, Any] = yaml.load(
    (Path(__file__).parents[1] / "contradictions.yaml").read_text(encoding="utf-8"),
    yaml.BaseLoader,  # noqa: S506 - makes strings, lists and mappings only
)
RUN_UP = """
check: Run up
airplane: merlow-ml2
cautions: On the ground only.
sections:
  - section: Run up
    items:
      - item: oil
        state: {steady: pass, moving: squawk}
      - {item: done, call: run up complete}
"""
FIRST_RADIO = ("          loads: communication 1\n", "          loads: communication 2\n")


@pytest.mark.parametrize("case", CONTRADICTIONS.values(), ids=CONTRADICTIONS.keys())
def test_each_contradiction_is_found(case: dict[str, Any]) -> None:
    """An edit makes the Merlow's check contradict its airplane; the finding says how, and by which path."""
    check = edited_check("merlow-reserve", *((edit["old"], edit["new"]) for edit in case["edits"]))
    findings = contradictions(check, shipped_airplane("merlow-ml2"))
    assert any(case["says"] in finding.message for finding in findings), [
        str(finding) for finding in findings
    ]


def test_a_contradiction_has_file_line_and_column() -> None:
    """The finding points at the item."""
    check = edited_check("merlow-reserve", FIRST_RADIO)
    found = [str(finding) for finding in contradictions(check, shipped_airplane("merlow-ml2"))]
    line = check.item("first radio").place.line
    lines = (FOLDER / "merlow-reserve.yaml").read_text(encoding="utf-8").split("\n")
    assert lines[line - 1] == "      - item: first radio"
    assert any(
        re.match(
            rf'merlow-reserve\.yaml:{line}:9: error: section "Must stay dead": item "first radio": ', each
        )
        for each in found
    )


def test_a_check_of_another_airplane_is_refused() -> None:
    """Nothing else is judged then."""
    (finding,) = contradictions(shipped_check("tarn-reserve"), shipped_airplane("merlow-ml2"))
    assert finding.grade is Grade.ERROR
    assert finding.message == 'the check is for "tarn-qx83", not for "merlow-ml2"; load the right airplane'


def test_the_same_contradiction_is_told_once() -> None:
    """A check with several branches repeats nothing."""
    check = edited_check("merlow-reserve", FIRST_RADIO)
    findings = contradictions(check, shipped_airplane("merlow-ml2"))
    assert len(set(findings)) == len(findings)
    assert sum("is called dead" in finding.message for finding in findings) == 1


def test_a_check_may_leave_the_reserve_alone() -> None:
    """A run-up of an airplane claims nothing of its reserve, and owes it nothing."""
    check = parse_check(RUN_UP, Path("run-up.yaml"))
    assert contradictions(check, shipped_airplane("merlow-ml2")) == ()


def test_what_such_a_check_claims_is_held_against_the_airplane() -> None:
    """Gear lamps are dead while the selector is parked."""
    text = RUN_UP.replace(
        "        state: {steady: pass", "        proves: gear lamps\n        state: {steady: pass"
    )
    found = contradictions(parse_check(text, Path("run-up.yaml")), shipped_airplane("merlow-ml2"))
    assert any('"gear lamps"' in finding.message and finding.grade is Grade.ERROR for finding in found)
