"""`eyesout lint --prove`: what it prints, and its exit code."""

import argparse
import io
import json
from pathlib import Path

import pytest

from runner.command import lint, proving
from runner.command.proving import TimedProof, proof_as_json, proof_lines
from runner.core.plan import Plan
from runner.prove.proof import Proof, Violation

SHORT = str(Path(__file__).parents[1] / "live" / "short-reserve.yaml")
BROKEN = Proof(12, 34, 2, (Violation("something is left", ("continue", "affirm")),))


def lint_short(*options: str) -> tuple[int, str]:
    """Exit code and output of the command on the short check."""
    parser = argparse.ArgumentParser()
    lint.add_arguments(parser)
    out = io.StringIO()
    return lint.run(parser.parse_args([SHORT, *options]), out), out.getvalue()


def test_a_proof_says_how_much_it_saw_and_how_long_it_took() -> None:
    """States, steps, ends, seconds of the processor, and the bounds of the walk."""
    code, printed = lint_short("--prove")
    *_, walked, proved = printed.splitlines()
    assert code == 0
    assert walked.startswith("walked ")
    assert " states and " in walked
    assert walked.endswith("(at most 1 item put off at a time, 1 correction in a row from every state)")
    assert proved.startswith("proved: nothing moved is left unasked")


def test_without_the_option_nothing_is_walked() -> None:
    """Lint stays quick."""
    _, printed = lint_short()
    assert "walked" not in printed
    _, written = lint_short("--json")
    assert "proof" not in json.loads(written)[0]


def test_a_violation_makes_a_check_unfit(monkeypatch: pytest.MonkeyPatch) -> None:
    """Exit code 1, as an error of the file does."""

    def broken(_: Plan) -> Proof:
        return BROKEN

    monkeypatch.setattr(proving, "prove", broken)
    code, printed = lint_short("--prove")
    assert code == 1
    assert "proved" not in printed
    _, written = lint_short("--prove", "--json")
    assert json.loads(written)[0]["proof"]["violations"][0]["way"] == ["continue", "affirm"]


def test_a_violation_is_told_step_by_step() -> None:
    """One line a step, numbered."""
    assert list(proof_lines(TimedProof(BROKEN, 3.2)))[1:] == [
        "violation: something is left",
        "     1  continue",
        "     2  affirm",
    ]
    assert proof_as_json(TimedProof(BROKEN, 3.21))["seconds"] == 3.2
