"""`eyesout lint`: a check held against its airplane, against published checklist rules, and by ear."""

import argparse
import json
from typing import TextIO

from runner.checklist.consistency import contradictions
from runner.checklist.coverage import coverage
from runner.checklist.finding import Finding, Grade
from runner.checklist.lint import lint
from runner.checklist.load import load_check
from runner.language.clash import clashes
from runner.language.digit import RADIO_PRONUNCIATIONS
from runner.language.likeness import pronounced
from runner.session.parts import find_check, read_airplane_of
from runner.voice.dictionary import dictionary_words


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The checks to look at."""
    parser.add_argument("checks", nargs="+", metavar="CHECK", help="a shipped check's name, or a YAML file")
    parser.add_argument("--json", action="store_true", help="as JSON")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print what is found; 1 when anything makes a check unfit to be run, else 0."""
    reports = [_report(name) for name in arguments.checks]
    if arguments.json:
        print(json.dumps([_as_json(*report) for report in reports], indent=2), file=out)
    else:
        for name, findings, share in reports:
            print("\n".join((*map(str, findings), _closing(name, findings, share))), file=out)
    errors = [finding for _, findings, _ in reports for finding in findings if finding.grade is Grade.ERROR]
    return 1 if errors else 0


def _report(name: str) -> tuple[str, tuple[Finding, ...], float]:
    path = find_check(name)
    check = load_check(path)
    airplane = read_airplane_of(check, path)
    sounds = pronounced(dictionary_words(), RADIO_PRONUNCIATIONS, check.pronounce)
    findings = (
        *contradictions(check, airplane),
        *lint(check, lambda one: clashes(one, sounds), sounds.__contains__),
    )
    return check.title, tuple(findings), coverage(check, airplane).share


def _closing(name: str, findings: tuple[Finding, ...], share: float) -> str:
    counts = ", ".join(f"{sum(found.grade is grade for found in findings)} {grade.value}s" for grade in Grade)
    counts = counts.replace("advices", "pieces of advice")
    return f"{name}: {counts}; {share:.0%} of the reserve's loads and shed buses are shown"


def _as_json(name: str, findings: tuple[Finding, ...], share: float) -> dict[str, object]:
    return {
        "check": name,
        "coverage": round(share, 4),
        "findings": [
            {
                "file": str(finding.place.path),
                "line": finding.place.line,
                "column": finding.place.column,
                "grade": finding.grade.value,
                "message": finding.message,
            }
            for finding in findings
        ],
    }
