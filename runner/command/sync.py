"""`eyesout sync URL`: pushes what the school does not have yet; doing it again adds nothing."""

import argparse
from dataclasses import asdict
from typing import TextIO

from runner.command.record_option import add_json, add_own_logbook, write_json
from runner.logbook.record.opening import open_own
from runner.logbook.school.school import School


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Where to."""
    parser.add_argument("url", help="the school's postgresql://USER@HOST/DATABASE")
    add_own_logbook(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Push; 0 when everything arrived, 1 when a record was refused, RecordError when the connection broke."""
    with School.open(arguments.url) as school, open_own(arguments.logbook) as logbook:
        from runner.logbook.school.push import sync  # noqa: PLC0415 - an optional extra, checked by School.open

        done = sync(logbook, school)
    if arguments.json:
        write_json(asdict(done), out)
    else:
        out.write(f"{done.chains} records new or grown at the school, {done.lines} lines\n")
        out.writelines(f"refused: {reason}\n" for reason in done.refused)
    return 1 if done.refused else 0
