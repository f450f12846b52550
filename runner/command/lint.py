"""`eyesout lint`: checks against airplanes, published rules and the ear; airplanes against themselves."""

import argparse
import contextlib
import json
from collections import Counter
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final, TextIO

from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.airplane import Airplane
from runner.airplane.survey.findings import remarks
from runner.airplane.survey.remark import Remark
from runner.checklist.format.check import Check
from runner.checklist.format.check_load import load_check
from runner.checklist.lint.check_lint import lint
from runner.checklist.lint.clash import clashes
from runner.checklist.lint.consistency import contradictions
from runner.checklist.lint.coverage import coverage, selects_reserve
from runner.checklist.lint.finding import Finding, Grade, folded
from runner.checklist.lint.minutes_truth import judge_bands
from runner.command.proving import TimedProof, proof_as_json, proof_lines, timed_proof
from runner.document import read_document
from runner.errors import UsageError
from runner.language.digit import RADIO_PRONUNCIATIONS
from runner.language.likeness import pronounced
from runner.session.data_file import find_airplane, find_check
from runner.session.parts import read_airplane_of
from runner.voice.ear.dictionary import dictionary_words

COUNTED: Final = {
    Grade.ERROR: ("error", "errors"),
    Grade.WARNING: ("warning", "warnings"),
    Grade.ADVICE: ("piece of advice", "pieces of advice"),
}
"""One of them, and any other number."""


@dataclass(frozen=True, slots=True)
class LintReport:
    """What is found in one check."""

    name: str
    findings: tuple[Finding, ...]
    share: float | None
    """Of the reserve's loads and shed buses that are shown; None where no reserve is checked."""
    proof: TimedProof | None

    @property
    def is_unfit(self) -> bool:
        """Not to be run."""
        is_wrong = any(finding.grade is Grade.ERROR for finding in self.findings)
        return is_wrong or (self.proof is not None and bool(self.proof.proof.violations))


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The checks to look at."""
    parser.add_argument(
        "checks", nargs="+", metavar="FILE", help="checks and airplanes: shipped names, or YAML files"
    )
    parser.add_argument("--json", action="store_true", help="as JSON")
    parser.add_argument(
        "--prove",
        action="store_true",
        help="walk every way that a run can go: nothing moved is left, each item can fail, each way can end",
    )


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print what is found; 1 when anything makes a check unfit to be run, else 0."""
    reports = [_report(name, with_proof=arguments.prove) for name in arguments.checks]
    if arguments.json:
        print(json.dumps([_as_json(report) for report in reports], indent=2), file=out)
    else:
        for report in reports:
            print("\n".join(_lines(report)), file=out)
    return 1 if any(report.is_unfit for report in reports) else 0


def _report(name: str, *, with_proof: bool) -> LintReport:
    path = _find(name)
    if "registration" in read_document(path).entries():
        surveyed = load_airplane(path)
        graded = tuple(_graded(each) for each in remarks(surveyed))
        return LintReport(surveyed.title, graded, None, None)
    check = load_check(path)
    airplane = read_airplane_of(check)
    sounds = pronounced(dictionary_words(), RADIO_PRONUNCIATIONS, check.pronounce)
    findings = (
        *(() if airplane is None else contradictions(check, airplane)),
        *lint(check, lambda one: clashes(one, sounds), sounds.__contains__),
        *(() if airplane is None else judge_bands(check, airplane, datetime.now(UTC).date())),
    )
    proof = timed_proof(check, airplane) if with_proof else None
    return LintReport(check.title, findings, _share(check, airplane), proof)


def _share(check: Check, airplane: Airplane | None) -> float | None:
    if airplane is None or not selects_reserve(check, airplane):
        return None
    return coverage(check, airplane).share


def _find(name: str) -> Path:
    """A check or an airplane of that name; UsageError names the nearest check."""
    try:
        return find_check(name)
    except UsageError:
        with contextlib.suppress(UsageError):
            return find_airplane(name)
        raise


def _graded(remark: Remark) -> Finding:
    return Finding(remark.place, Grade.ERROR if remark.is_error else Grade.WARNING, remark.message)


def _lines(report: LintReport) -> list[str]:
    proof = [] if report.proof is None else list(proof_lines(report.proof))
    return [*folded(report.findings), _closing(report), *proof]


def _closing(report: LintReport) -> str:
    found = Counter(each.grade for each in report.findings)
    counts = ", ".join(f"{found[grade]} {COUNTED[grade][found[grade] != 1]}" for grade in Grade)
    if report.share is None:
        return f"{report.name}: {counts}"
    return f"{report.name}: {counts}; {report.share:.0%} of the reserve's loads and shed buses are shown"


def _as_json(report: LintReport) -> dict[str, object]:
    return {
        "check": report.name,
        "coverage": None if report.share is None else round(report.share, 4),
        "findings": [
            {
                "file": str(finding.place.path),
                "line": finding.place.line,
                "column": finding.place.column,
                "grade": finding.grade.value,
                "message": finding.message,
            }
            for finding in report.findings
        ],
        **({} if report.proof is None else {"proof": proof_as_json(report.proof)}),
    }
