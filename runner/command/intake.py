"""`eyesout import FILE ...`: takes exported runs in, or refuses them by file and line; sets runs aside."""

import argparse
import time
from dataclasses import asdict
from pathlib import Path
from typing import TextIO

from runner.command.record_option import add_json, add_own_logbook, write_json
from runner.errors import UsageError
from runner.logbook.carry.run_intake import intake
from runner.logbook.carry.set_aside import aside_in, set_aside, take_back
from runner.logbook.list.entry_wording import moment
from runner.logbook.list.run_list import find_run
from runner.logbook.record.opening import open_own
from runner.logbook.squawk.maintenance_record import SetAside, TakenBack
from runner.report.draw.text_table import table
from runner.session.fitness import refuse_unfit
from runner.visible import width_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which files, or which run to set aside."""
    parser.add_argument("files", nargs="*", type=Path, metavar="FILE", help="what `eyesout export` wrote")
    actions = parser.add_mutually_exclusive_group()
    actions.add_argument(
        "--set-aside",
        metavar="RUN",
        help="take an imported run out of lists, trends and reports; its record stays",
    )
    actions.add_argument(
        "--take-back", metavar="RUN", help="put a run that was set aside back (its whole id)"
    )
    actions.add_argument("--list", action="store_true", help="the runs that are set aside")
    parser.add_argument("--by", metavar="NAME", help="who sets aside or takes back")
    parser.add_argument("--why", default="", metavar="WORDS", help="and why")
    add_own_logbook(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Take them in one after the other; RecordError `file:line: why` at the first that is refused."""
    has_action = bool(arguments.set_aside or arguments.take_back or arguments.list)
    if has_action == bool(arguments.files):
        raise UsageError("name files to import, or one of --set-aside, --take-back and --list")
    if has_action:
        return _aside(arguments, out)
    taken = []
    with open_own(arguments.logbook, may_make=True) as logbook:
        for file in arguments.files:
            one = intake(logbook, file, refuse_unfit)
            taken.append({"file": str(file)} | asdict(one))
            if not arguments.json:
                out.write(f"{file}: {one.chains} records, {one.lines} lines, {one.new_lines} of them new\n")
    if arguments.json:
        write_json(taken, out)
    return 0


def _aside(arguments: argparse.Namespace, out: TextIO) -> int:
    with open_own(arguments.logbook) as logbook:
        if not arguments.list:
            if not arguments.by:
                raise UsageError("say who does it with --by NAME")
            if arguments.set_aside:
                name = find_run(logbook, arguments.set_aside).run
                set_aside(logbook, name, SetAside(time.time(), arguments.by, arguments.why))
            else:
                record = TakenBack(time.time(), arguments.by, arguments.why)
                take_back(logbook, arguments.take_back, record)
        found = aside_in(logbook)
    if arguments.json:
        write_json({name: asdict(record) for name, record in found.items()}, out)
        return 0
    rows = [(moment(record.at), name, record.by, record.why) for name, record in found.items()]
    heads = ("set aside, UTC", "run", "by", "why")
    lines = table([heads, *rows], indent="", width=width_of(out)) if rows else ["no run is set aside"]
    out.writelines(f"{line}\n" for line in lines)
    return 0
