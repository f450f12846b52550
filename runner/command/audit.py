"""`eyesout audit AIRPLANE [CHECK]`: the single failures that a check would never notice."""

from __future__ import annotations

import argparse
import json
from datetime import UTC, datetime
from pathlib import Path
from typing import TextIO

from runner.airplane.load.airplane_load import load_airplane
from runner.checklist.derive.derived_check import derive
from runner.checklist.format.check import Check
from runner.checklist.format.check_load import load_check, parse_check
from runner.errors import UsageError
from runner.fault.fault_audit import audit
from runner.fault.pair import outlooks
from runner.language.catalogue import STANDING_CAUTION
from runner.report.bus.audit_text import audit_dict, audit_text
from runner.session.data_file import find_airplane, find_check


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The airplane, the check, and the form of the answer."""
    parser.add_argument("airplane", help="a shipped airplane's name, or a YAML file")
    parser.add_argument("check", nargs="?", help="a check of it (default: the check that derive would write)")
    parser.add_argument("--json", action="store_true", help="print the report as JSON")


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print the audit; FileError or UsageError for whatever is wrong with what was asked."""
    airplane, today = load_airplane(find_airplane(arguments.airplane)), datetime.now(UTC).date()
    check = (
        _check(arguments.check) if arguments.check else parse_check(derive(airplane, today), airplane.path)
    )
    if Path(check.airplane).stem != airplane.name:
        raise UsageError(
            f'"{check.title}" is for "{check.airplane}", not for "{airplane.name}"; name its own'
        )
    found = audit(check, airplane)
    pairs = outlooks(airplane, found.unnoticed, today)
    if arguments.json:
        out.write(json.dumps(audit_dict(check.title, airplane, found, pairs), indent=2) + "\n")
    else:
        out.write(audit_text(check.title, airplane, found, pairs) + f"\n{STANDING_CAUTION}\n")
    return 0


def _check(name: str) -> Check:
    return load_check(find_check(name))
