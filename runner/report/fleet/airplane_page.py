"""The report of an airplane or of a fleet as one HTML file."""

from runner.report.draw.page_frame import render
from runner.report.fleet.airplane_report import FleetReport


def fleet_page(report: FleetReport) -> str:
    """The whole file's text; a single airplane gets all of its runs' charts, a fleet those that moved."""
    return render("airplane.html", report.maker, report=report)
