"""`eyesout maintenance AIRPLANE`: records or lists work done on an airplane; its trends start anew there."""

import argparse
import time
from dataclasses import asdict
from datetime import UTC, datetime
from typing import TextIO

from runner.command.record_option import add_json, add_logbook, write_json
from runner.errors import UsageError
from runner.logbook.list.airplane_series import series_of
from runner.logbook.list.entry_wording import moment
from runner.logbook.list.run_list import one_registration
from runner.logbook.record.opening import open_own, open_shelf
from runner.logbook.squawk.maintenance_record import Serviced, file_record, services_of
from runner.report.draw.text_table import table
from runner.visible import width_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which airplane, and what was done; without --done the records are listed."""
    parser.add_argument("airplane", help="a registration, or an airplane file's name if it means one tail")
    parser.add_argument("--done", metavar="WORDS", help="what was done, such as: left attitude gyro replaced")
    parser.add_argument("--by", metavar="NAME", help="who did it")
    parser.add_argument("--series", default="", metavar="NAME", help="the gyro or reading it concerns (all)")
    parser.add_argument("--at", metavar="TIME", help="when, ISO 8601, UTC unless it says otherwise (now)")
    add_logbook(parser)
    add_json(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Record it, then list what there is."""
    if arguments.done is None:
        with open_shelf(arguments.logbook) as shelf:
            services = services_of(shelf, one_registration(shelf, arguments.airplane))
    else:
        services = _recorded(arguments)
    if arguments.json:
        write_json([asdict(service) for service in services], out)
        return 0
    rows = [(moment(one.at), one.series or "whole airplane", one.what, one.by) for one in services]
    lines = table(rows, indent="", width=width_of(out)) or ["no maintenance recorded"]
    out.writelines(f"{line}\n" for line in lines)
    return 0


def _recorded(arguments: argparse.Namespace) -> tuple[Serviced, ...]:
    if not arguments.by:
        raise UsageError("say who did it with --by NAME")
    with open_own(arguments.logbook) as logbook:
        registration = one_registration(logbook, arguments.airplane)
        known = [series.name for series in series_of(logbook, registration)]
        if arguments.series and arguments.series not in known:
            raise UsageError(f'no series "{arguments.series}" of {registration}; it has: {", ".join(known)}')
        record = Serviced(_when(arguments.at), arguments.by, arguments.done, arguments.series)
        file_record(logbook, registration, record)
        return services_of(logbook, registration)


def _when(words: str | None) -> float:
    if words is None:
        return time.time()
    try:
        given = datetime.fromisoformat(words)
    except ValueError:
        raise UsageError(f'"{words}" is no time; write YYYY-MM-DD or YYYY-MM-DDTHH:MM') from None
    return (given if given.tzinfo else given.replace(tzinfo=UTC)).timestamp()
