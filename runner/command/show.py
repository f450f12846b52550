"""`eyesout show RUN`: one run from its record: every entry, its stops, its squawks, its hash."""

import argparse
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any, TextIO

from runner.command.record_option import add_json, add_logbook, write_json
from runner.core.record.codec import to_json
from runner.core.record.danger_stop import stops_in
from runner.core.record.entry import Entry
from runner.language.catalogue import STANDING_CAUTION
from runner.logbook.list.entry_wording import became_words, entry_words, moment, since, value_words
from runner.logbook.list.run_list import find_run
from runner.logbook.record.chain import ChainRead
from runner.logbook.record.header import RunHeader
from runner.logbook.record.opening import open_shelf
from runner.logbook.record.record import entries_in, header_of, read_whole, run_chain
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.record.summary_table import RunSummary
from runner.logbook.squawk.squawk_record import Squawk, squawks_in
from runner.report.draw.text_table import table
from runner.visible import visible, width_of


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which run."""
    parser.add_argument("run", nargs="?", default="last", help="a run's id, its beginning, or `last` (last)")
    add_logbook(parser)
    add_json(parser)


@dataclass(frozen=True, slots=True)
class Shown:
    """What is known of one run."""

    header: RunHeader
    summary: RunSummary
    reading: ChainRead
    entries: tuple[Entry, ...]
    squawks: tuple[Squawk, ...]


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Print it; 1 when the record is not whole (what is whole is shown)."""
    with open_shelf(arguments.logbook) as shelf:
        shown = _shown(shelf, find_run(shelf, arguments.run))
    if arguments.json:
        write_json(_as_json(shown), out)
    else:
        out.writelines(f"{visible(line)}\n" for line in _lines(shown, width_of(out)))
    return 0 if shown.reading.fault is None else 1


def _shown(shelf: Shelf, summary: RunSummary) -> Shown:
    reading = read_whole(shelf, run_chain(shelf, summary.run))
    return Shown(
        header_of(shelf, summary.run),
        summary,
        reading,
        entries_in(reading),
        squawks_in(shelf, summary.run),
    )


def _lines(shown: Shown, width: int | None) -> Iterator[str]:
    header, summary, start = shown.header, shown.summary, shown.header.started_at
    yield f"{header.run}: {summary.state}{' (invented)' if header.is_invented else ''}"
    oat = "" if header.oat_celsius is None else f", outside {header.oat_celsius:g} degrees Celsius"
    yield f"  {header.registration}, check {header.check}, pilot {header.pilot or 'not named'}{oat}"
    yield f"  started {moment(start)} UTC"
    yield ""
    yield from table(((since(entry.at, start), *entry_words(entry)) for entry in shown.entries), width=width)
    yield ""
    for stop in stops_in(shown.entries):
        yield f"  stop, {became_words(stop, start)}: {stop.item}: {stop.what}"
    for squawk in shown.squawks:
        words = value_words(squawk.answer, squawk.value, squawk.unit)
        yield f"  squawk, {squawk.state}: {squawk.item}: {words}"
    yield f"  record of {len(shown.reading.lines)} lines, SHA-256 {_digest(shown.reading)}"
    if shown.reading.fault is not None:
        yield f"  NOT WHOLE: {shown.reading.fault}"
    yield ""
    yield STANDING_CAUTION


def _digest(reading: ChainRead) -> str:
    return reading.lines[-1].digest if reading.lines else "none"


def _as_json(shown: Shown) -> dict[str, Any]:
    return {
        "header": asdict(shown.header),
        "summary": asdict(shown.summary),
        "entries": [to_json(entry) for entry in shown.entries],
        "stops": [
            {
                "item": stop.item,
                "answer": stop.what,
                "at": stop.at,
                "remedied_at": stop.remedied_at,
                "withdrawn_at": stop.withdrawn_at,
                "squawked_at": stop.squawked_at,
            }
            for stop in stops_in(shown.entries)
        ],
        "squawks": [asdict(squawk) | {"state": squawk.state} for squawk in shown.squawks],
        "lines": len(shown.reading.lines),
        "sha256": _digest(shown.reading),
        "fault": shown.reading.fault,
    }
