"""The report of an airplane or a fleet as comma-separated values: a row a squawk that is not closed."""

from collections.abc import Iterator
from typing import Final

from runner.report.draw.csv_text import Cell, csv_text
from runner.report.draw.stamp import iso_stamp
from runner.report.fleet.airplane_report import FleetReport
from runner.report.run.run_wording import remark_words

HEADS: Final = (
    *("registration", "airplane", "is_invented", "item", "challenge", "expected", "state"),
    *("utc", "answer", "value", "unit", "run", "shared_feeds", "records"),
)


def fleet_csv(report: FleetReport) -> str:
    """The whole file's text."""
    return csv_text(HEADS, _rows(report))


def _rows(report: FleetReport) -> Iterator[tuple[Cell, ...]]:
    for airplane in report.airplanes:
        for one in airplane.recurrences:
            feeds = "; ".join(map(str, one.feeds))
            for squawk in one.squawks:
                yield (
                    airplane.registration,
                    airplane.title,
                    airplane.is_invented,
                    one.item,
                    one.challenge,
                    one.expected,
                    squawk.state.value,
                    iso_stamp(squawk.at),
                    squawk.answer,
                    squawk.value,
                    squawk.unit,
                    squawk.run,
                    feeds,
                    "; ".join(f"{record.by}: {remark_words(record)}" for record in squawk.records),
                )
