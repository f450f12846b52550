"""`eyesout history [AIRPLANE]`: the runs, newest first, with their times and results."""

import argparse
from dataclasses import asdict
from typing import TextIO

from runner.command.figure import whole
from runner.command.record_option import add_json, add_logbook, write_json
from runner.logbook.list.entry_wording import moment
from runner.logbook.list.run_list import runs
from runner.logbook.record.opening import open_shelf
from runner.logbook.record.summary_table import RunSummary
from runner.report.draw.text_table import table
from runner.visible import width_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which airplane, how many, which logbook."""
    parser.add_argument("airplane", nargs="?", help="a registration, or an airplane file's name (all)")
    parser.add_argument("--by", metavar="NAME", help="only the runs of this pilot")
    parser.add_argument(
        "--limit", type=whole(0, 1_000_000_000), default=30, metavar="N", help="the newest N (30); 0 for all"
    )
    add_logbook(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print the list; RecordError when there is no logbook or no such airplane."""
    limit = arguments.limit or None
    with open_shelf(arguments.logbook) as shelf:
        found = runs(shelf, airplane=arguments.airplane, pilot=arguments.by, limit=limit and limit + 1)
    has_more = limit is not None and len(found) > limit
    found = found[:limit]
    if arguments.json:
        write_json([asdict(one) for one in found], out)
        return 0
    if not found:
        out.write("no runs yet\n")
        return 0
    heads = ("started, UTC", "registration", "pilot", "result", "took", "stops", "squawks", "cautions", "run")
    out.write("\n".join(table([heads, *map(_row, found)], indent="", width=width_of(out))) + "\n")
    if has_more:
        out.write("older runs are left out; --limit 0 lists all\n")
    return 0


def _row(one: RunSummary) -> tuple[str, ...]:
    took = "" if one.ended_at is None else f"{(one.ended_at - one.started_at) / 60:.1f} min"
    name = f"{one.run} (invented)" if one.is_invented else one.run
    return (
        moment(one.started_at),
        one.registration,
        one.pilot or "-",
        one.state,
        took,
        str(one.stops or "-"),
        str(one.squawks or "-"),
        str(one.cautions or "-"),
        name,
    )
