"""A report as one HTML file: for a screen, light or dark, and for one or two sheets of paper."""

from runner.language.catalogue import Outcome
from runner.report.draw.page_frame import render
from runner.report.fleet.airplane_report import FleetReport
from runner.report.fleet.airplane_sheet import COUNTING, NO_SQUAWK, airplanes_table, squawks_table
from runner.report.run.run_item import ItemState
from runner.report.run.run_report import RunReport


def run_page(report: RunReport) -> str:
    """The whole file's text."""
    return render(
        "run.html",
        report.maker,
        report=report,
        cautions=report.with_outcome(Outcome.CAUTION),
        unable=report.in_state(ItemState.UNABLE),
        open_items=report.in_state(ItemState.OPEN),
        challenges={item.item.name: item.item.challenge for item in report.items},
    )


def fleet_page(report: FleetReport) -> str:
    """The whole file's text; a single airplane gets all of its runs' charts, a fleet those that moved."""
    return render(
        "airplane.html",
        report.maker,
        report=report,
        airplanes_table=airplanes_table(report),
        squawks_tables=[squawks_table(airplane) for airplane in report.airplanes],
        counting=COUNTING,
        no_squawk=NO_SQUAWK,
    )
