"""`eyesout verify`: walks the chain of every record and the links between them, and says what is whole."""

import argparse
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import TextIO

from runner.command.record_option import add_json, add_logbook, write_json
from runner.command.uncollected import uncollected
from runner.logbook.proof.audit import Audit, audit, audit_folder
from runner.logbook.proof.logbook_witness import Witness
from runner.logbook.proof.signature import make_key, own_key
from runner.logbook.record.opening import is_shared, open_shelf
from runner.logbook.school.school import School
from runner.visible import visible


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which logbook, held against what, and how much is said."""
    parser.add_argument(
        "--all", action="store_true", help="name every chain with its hash, not only broken ones"
    )
    parser.add_argument(
        "--against",
        metavar="KEY|FILE",
        help="a public key, a file with one, or a report made with --json: what others have changed since, "
        "or cut off, shows",
    )
    parser.add_argument(
        "--make-key", action="store_true", help="make a key of yours, which signs each record from now on"
    )
    add_logbook(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print what was found; 0 when all is whole, 1 when something is not."""
    if arguments.make_key:
        return _make_key(out)
    against = None if arguments.against is None else Witness.read(arguments.against)
    with uncollected():
        found = _audit(arguments.logbook, against)
    if arguments.json:
        write_json(asdict(found) | {"is_whole": found.is_whole}, out)
    else:
        out.writelines(f"{visible(line)}\n" for line in _lines(found, with_all=arguments.all))
    return 0 if found.is_whole else 1


def _make_key(out: TextIO) -> int:
    path = make_key()
    key = own_key()
    out.write(f"wrote {path}; keep a copy where nobody else gets at it\n")
    out.write(f"public key, for whoever verifies: {'' if key is None else key.public}\n")
    return 0


def _audit(place: str, against: Witness | None) -> Audit:
    if not is_shared(place):
        return audit_folder(Path(place), against)
    with open_shelf(place) as shelf:
        if isinstance(shelf, School):
            with shelf.held_still():
                return audit(shelf, against)
        return audit(shelf, against)


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
    yield from found.remarks
    if not found.is_whole:
        yield "nothing was changed; `eyesout export --salvage` writes what can be read, for a new logbook"
