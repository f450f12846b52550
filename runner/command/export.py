"""`eyesout export [RUN ...]`: runs or a whole logbook as JSON Lines that verify themselves."""

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TextIO

from runner.command.record_option import add_logbook, write_data
from runner.command.whole_file import whole_file
from runner.errors import UsageError
from runner.logbook.carry.run_export import Rescued, export, export_salvage
from runner.logbook.list.run_list import find_run
from runner.logbook.proof.recover import salvage
from runner.logbook.record.opening import attachments_of, is_shared, open_shelf


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What, and where to."""
    parser.add_argument(
        "runs", nargs="*", metavar="RUN", help="ids, their beginnings, or `last` (everything)"
    )
    parser.add_argument("--to", type=Path, metavar="FILE", help="write to a file (standard output)")
    parser.add_argument("--salvage", action="store_true", help="of a damaged logbook, whatever is whole")
    add_logbook(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Write it; the file arrives whole or not at all."""
    lines = _salvaged(arguments) if arguments.salvage else _lines(arguments.logbook, arguments.runs)
    if arguments.to is None:
        for line in lines:
            write_data(f"{line}\n".encode(), out)
        return 0
    with whole_file(arguments.to) as file:
        file.writelines(f"{line}\n".encode() for line in lines)
    return 0


def _lines(place: str, runs: Sequence[str]) -> Iterator[str]:
    with open_shelf(place) as shelf:
        chosen = [find_run(shelf, words).run for words in runs] or None
        yield from export(shelf, attachments_of(shelf), chosen)


def _salvaged(arguments: argparse.Namespace) -> Iterator[str]:
    if is_shared(arguments.logbook) or arguments.runs:
        raise UsageError("--salvage takes everything that is left of a logbook's folder; name no run")
    folder = Path(arguments.logbook)
    found = salvage(folder)
    yield from export_salvage(found, Rescued(found, folder / "clips"))
