"""`eyesout diagnose RUN`: which single failure explains a run's answers, and the next look."""

from __future__ import annotations

import argparse
from typing import TextIO

from runner.command.record_option import add_json, add_logbook, write_json
from runner.core.record.answer_history import history_of
from runner.errors import UsageError
from runner.language.catalogue import STANDING_CAUTION, Outcome
from runner.logbook.list.run_list import find_run
from runner.logbook.record.opening import open_shelf
from runner.logbook.record.record import entries_in, read_whole, run_chain
from runner.report.run.suspects import diagnosis_dict, diagnosis_of, diagnosis_text
from runner.session.parts import recorded_parts


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which run."""
    parser.add_argument("run", nargs="?", default="last", help="a run's id, its beginning, or `last` (last)")
    add_logbook(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print suspects and the next look; 1 when the run's record is not whole."""
    with open_shelf(arguments.logbook) as shelf:
        name = find_run(shelf, arguments.run).run
        parts, reading = recorded_parts(shelf, name), read_whole(shelf, run_chain(shelf, name))
    given = history_of(entries_in(reading)).standing
    if parts.airplane is None:
        raise UsageError(f"{name} was of no airplane; there is no wiring to look for a failure in")
    found = diagnosis_of(parts.check, parts.airplane, given)
    unusual = [
        item
        for item in parts.check.items
        if item.name in given and given[item.name].outcome not in (None, Outcome.PASS)
    ]
    if arguments.json:
        write_json({"run": name, **diagnosis_dict(found)}, out)
    else:
        out.write(diagnosis_text(parts.check.title, unusual, found) + f"\n{STANDING_CAUTION}\n")
    return 0 if reading.fault is None else 1
