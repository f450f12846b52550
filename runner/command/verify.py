"""`eyesout verify`: walks the chain of every run and says what is whole."""

import argparse
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import TextIO

from runner.command.record_option import add_json, add_logbook, write_json
from runner.logbook.opening import is_shared, open_shelf
from runner.logbook.verify import Audit, audit, audit_folder


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which logbook, and how much is said."""
    parser.add_argument(
        "--all", action="store_true", help="name every chain with its hash, not only broken ones"
    )
    add_logbook(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print what was found; 0 when all is whole, 1 when something is not."""
    found = _audit(arguments.logbook)
    if arguments.json:
        write_json(asdict(found) | {"is_whole": found.is_whole}, out)
    else:
        out.write("\n".join(_lines(found, with_all=arguments.all)) + "\n")
    return 0 if found.is_whole else 1


def _audit(place: str) -> Audit:
    if not is_shared(place):
        return audit_folder(Path(place))
    with open_shelf(place) as shelf:
        return Audit(tuple(audit(shelf)), ())


def _lines(found: Audit, *, with_all: bool) -> Iterator[str]:
    yield from found.faults
    for verdict in found.verdicts:
        for fault in verdict.faults:
            yield f"{verdict.chain}: {verdict.lines} lines whole, then: {fault}"
        if with_all and not verdict.faults:
            yield f"{verdict.chain}: {verdict.lines} lines whole, SHA-256 {verdict.digest}"
    broken = sum(bool(verdict.faults) for verdict in found.verdicts)
    lines = sum(verdict.lines for verdict in found.verdicts)
    yield f"{len(found.verdicts) - broken} of {len(found.verdicts)} records whole, {lines} lines read"
    if not found.is_whole:
        yield "nothing was changed; `eyesout export --salvage` writes what can be read, for a new logbook"
