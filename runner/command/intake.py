"""`eyesout import FILE ...`: takes exported runs into the logbook, or refuses them with file and line."""

import argparse
from dataclasses import asdict
from pathlib import Path
from typing import TextIO

from runner.command.record_option import add_json, add_own_logbook, write_json
from runner.logbook.intake import intake
from runner.logbook.opening import open_own


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which files."""
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE", help="what `eyesout export` wrote")
    add_own_logbook(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Take them in one after the other; RecordError `file:line: why` at the first that is refused."""
    taken = []
    with open_own(arguments.logbook, may_make=True) as logbook:
        for file in arguments.files:
            one = intake(logbook, file)
            taken.append({"file": str(file)} | asdict(one))
            if not arguments.json:
                out.write(f"{file}: {one.chains} records, {one.lines} lines, {one.new_lines} of them new\n")
    if arguments.json:
        write_json(taken, out)
    return 0
