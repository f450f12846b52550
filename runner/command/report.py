"""`eyesout report RUN|AIRPLANE`: a paper of one run, one airplane or a fleet, as HTML, PDF, CSV or JSON."""

import argparse
import json
import re
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import tzinfo
from functools import partial
from importlib.metadata import version
from pathlib import Path
from typing import Any, Final, TextIO
from zoneinfo import ZoneInfo

from runner.command.record_option import add_logbook, write_data
from runner.command.uncollected import uncollected
from runner.command.whole_file import whole_file
from runner.errors import FileError, RecordError, UsageError
from runner.logbook.list.run_list import LAST, all_registrations, find_run, registrations_of
from runner.logbook.proof.logbook_witness import witness_of
from runner.logbook.record.opening import attachments_of, open_shelf
from runner.logbook.record.record import header_of
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.record.run_store import Logbook
from runner.logbook.school.school import School
from runner.report.draw.paper import PaperSize, pdf_of
from runner.report.draw.paper_sheet import Sheet
from runner.report.fleet.airplane_csv import fleet_csv
from runner.report.fleet.airplane_json import fleet_dict
from runner.report.fleet.airplane_report import FleetReport, fleet_report
from runner.report.fleet.airplane_sheet import fleet_sheet
from runner.report.origin import Maker
from runner.report.report_page import fleet_page, run_page
from runner.report.run.run_csv import run_csv
from runner.report.run.run_json import run_dict
from runner.report.run.run_report import Basis, RunReport, run_report
from runner.report.run.run_sheet import run_sheet
from runner.session.parts import parts_of
from runner.visible import visible_lines

HTML: Final = "html"
PRINTED: Final = ("csv", "json")
"""Forms that go to standard output unless a file is named."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Of what, in which form, to where."""
    parser.add_argument(
        "what",
        nargs="?",
        default=LAST,
        help="a run's id, its beginning, or `last`; or a registration, or an airplane file's name (last)",
    )
    parser.add_argument("--fleet", action="store_true", help="of all airplanes in the logbook")
    forms = parser.add_mutually_exclusive_group()
    parser.set_defaults(form=HTML)
    for form, words in (
        (HTML, "one HTML file with charts and sound, for a screen and for paper (usual)"),
        ("pdf", "one page for the mechanic and the inspector, squawks first"),
        ("csv", "a row an answer, or a row a squawk of an airplane"),
        ("json", "one document, described by checklists/schema/report.schema.json"),
    ):
        forms.add_argument(f"--{form}", dest="form", action="store_const", const=form, help=words)
    parser.add_argument("--to", type=Path, metavar="FILE", help="where it goes (a name of its own, here)")
    parser.add_argument(
        "--paper", type=PaperSize, choices=list(PaperSize), default=PaperSize.A4, help="of the PDF (a4)"
    )
    parser.add_argument("--zone", metavar="NAME", help="local time, such as Europe/Vienna (this computer's)")
    add_logbook(parser)


def run(arguments: argparse.Namespace, out: TextIO) -> int:
    """Write it; 1 when the run's record is not whole (what is whole is in the report)."""
    zone = _zone(arguments.zone)
    with uncollected(), open_shelf(arguments.logbook) as shelf:
        maker = Maker(f"eyesout {version('eyesout')}", time.time(), zone, witness_of(shelf))
        made = _made(shelf, arguments, maker)
    content = _content(made.forms, arguments)
    path = arguments.to
    if path is None and arguments.form not in PRINTED:
        path = Path(f"eyesout-{re.sub(r'[^A-Za-z0-9._-]+', '-', made.name)}.{arguments.form}")
    if path is None:
        write_data(content, out)
    else:
        with whole_file(path) as file:
            file.write(content)
        out.write(f"wrote {path}\n")
    return 0 if made.is_whole else 1


@dataclass(frozen=True, slots=True)
class Forms:
    """The ways to put one report on paper."""

    page: Callable[[], str]
    sheet: Callable[[], Sheet]
    csv: Callable[[], str]
    document: Callable[[], dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Made:
    """A report that waits for its form."""

    name: str
    """For the file's name."""
    forms: Forms
    is_whole: bool


def _made(shelf: Logbook | School, arguments: argparse.Namespace, maker: Maker) -> Made:
    basis_of = partial(_basis, shelf)
    tails = all_registrations(shelf) if arguments.fleet else _tails(shelf, arguments.what)
    if tails:
        name = tails[0] if len(tails) == 1 else "fleet"
        return Made(name, _fleet_forms(fleet_report(shelf, tuple(tails), basis_of, maker)), is_whole=True)
    found = _find_run(shelf, arguments.what)
    report = run_report(shelf, attachments_of(shelf), found, basis_of(found), maker)
    return Made(found, _run_forms(report), is_whole=report.proof.fault is None)


def _tails(shelf: Shelf, what: str) -> list[str]:
    """The airplanes meant; none when a run is meant."""
    try:
        return registrations_of(shelf, what)
    except RecordError:
        return []


def _find_run(shelf: Shelf, what: str) -> str:
    try:
        return find_run(shelf, what).run
    except RecordError as error:
        if str(error).startswith("no run"):
            raise RecordError(
                f'no run and no airplane "{what}" in {shelf.place}; `eyesout history` lists what there is'
            ) from None
        raise


def _basis(shelf: Shelf, run: str) -> Basis:
    header = header_of(shelf, run)
    try:
        parts = parts_of(shelf, header)
    except FileError as error:
        raise RecordError(
            f"run {run} was made with a file that this eyesout cannot read ({error}); "
            f"`eyesout show {run}` prints its record"
        ) from None
    return Basis(parts.check, parts.airplane, parts.plan, header)


def _run_forms(report: RunReport) -> Forms:
    return Forms(
        lambda: run_page(report),
        lambda: run_sheet(report),
        lambda: run_csv(report),
        lambda: run_dict(report),
    )


def _fleet_forms(report: FleetReport) -> Forms:
    return Forms(
        lambda: fleet_page(report),
        lambda: fleet_sheet(report),
        lambda: fleet_csv(report),
        lambda: fleet_dict(report),
    )


def _content(forms: Forms, arguments: argparse.Namespace) -> bytes:
    match arguments.form:
        case "pdf":
            return pdf_of(forms.sheet(), arguments.paper)
        case "csv":
            return forms.csv().encode()
        case "json":
            return (visible_lines(json.dumps(forms.document(), indent=2, ensure_ascii=False)) + "\n").encode()
        case _:
            return forms.page().encode()


def _zone(name: str | None) -> tzinfo | None:
    if name is None:
        return None
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        raise UsageError(f'no time zone "{name}"; write it as Europe/Vienna or UTC') from None
