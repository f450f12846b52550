"""The data behind an airplane's and a fleet's report: recurring squawks, runs, work done, trends."""

import html
import re
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest

from runner.errors import RecordError
from runner.logbook.invented.synthetic import Story
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.maintenance_record import Closed, Deferred, file_record
from runner.logbook.squawk.squawk_record import SquawkState
from runner.report.draw.paper_sheet import Columns, Heading, Words
from runner.report.fleet.airplane_report import NEWEST, AirplaneReport, airplane_report, fleet_report
from runner.report.fleet.airplane_sheet import COUNTING, airplanes_table, fleet_sheet
from runner.report.report_page import fleet_page
from runner.report.run.run_report import Basis
from runner.report.run.run_wording import moved_words, open_words, recurrence_words, run_words
from tests.report.run_sample import MAKER, STARTED_AT, basis_of, write_busy_run, write_past


@pytest.fixture
def logbook(tmp_path: Path) -> Iterator[Logbook]:
    """An empty one."""
    with Logbook.open(tmp_path) as found:
        yield found


def _report(logbook: Logbook) -> AirplaneReport:
    return airplane_report(logbook, "QQ-ML2", partial(basis_of, logbook))


def test_squawks_of_one_item_are_one_discrepancy(logbook: Logbook) -> None:
    """Twice the same run: two items, each squawked twice, the newest last."""
    first, second = write_busy_run(logbook), write_busy_run(logbook, started_at=STARTED_AT + 86_400)
    report = _report(logbook)
    assert {one.item for one in report.recurrences} == {"gear lamps", "left compass"}
    for one in report.recurrences:
        assert [squawk.run for squawk in one.squawks] == [first, second]
        assert recurrence_words(one) == "2 open"
    assert report.open_squawks == 4


def test_closed_squawks_are_counted_and_deferred_ones_stay(logbook: Logbook) -> None:
    """As the records about them say."""
    run = write_busy_run(logbook)
    file_record(logbook, run, Closed(STARTED_AT + 2000, "C. Invented", "gear lamps", "bulb replaced"))
    file_record(
        logbook, run, Deferred(STARTED_AT + 2100, "C. Invented", "left compass", "own list 4", "2026-01-01")
    )
    report = _report(logbook)
    (one,) = report.recurrences
    assert (report.closed, one.count(SquawkState.DEFERRED), recurrence_words(one)) == (1, 1, "deferred")


def test_the_newest_runs_are_listed_and_all_are_counted(logbook: Logbook) -> None:
    """An unfinished one is counted as well."""
    write_past(logbook, NEWEST + 5, story=Story.NORMAL_WEAR)
    write_busy_run(logbook, stop_after="volts on reserve")
    report = _report(logbook)
    assert (report.count, report.unfinished, len(report.runs)) == (NEWEST + 6, 1, NEWEST)
    assert run_words(report.newest) == "open, 1 squawk, 1 caution"
    assert [run.started_at for run in report.runs] == sorted(
        (run.started_at for run in report.runs), reverse=True
    )


def test_an_old_file_that_cannot_be_read_leaves_the_names(logbook: Logbook) -> None:
    """The item's name stands for its challenge, and the airplane file's name for its title."""

    def unreadable(run: str) -> Basis:
        raise RecordError(f"{run}: unreadable")

    write_busy_run(logbook)
    report = airplane_report(logbook, "QQ-ML2", unreadable)
    assert report.title == "merlow-ml2"
    assert {(one.challenge, one.expected) for one in report.recurrences} == {
        ("gear lamps", ""),
        ("left compass", ""),
    }
    assert all(one.feeds == () for one in report.recurrences)


def test_a_fleet_is_one_page_with_a_row_an_airplane(logbook: Logbook) -> None:
    """Charts only of what has moved; the failing gyro has, normal wear has not."""
    for place, story in enumerate((Story.FAILING_GYRO, Story.NORMAL_WEAR)):
        write_past(logbook, 40, f"QQ-Z{place}", story)
    report = fleet_report(logbook, ("QQ-Z0", "QQ-Z1"), partial(basis_of, logbook), MAKER)
    assert moved_words(report.airplanes) == "1 of 18 series moved"
    assert re.fullmatch(r"\d+ squawks not closed on \d+ items", open_words(report.airplanes))
    page = fleet_page(report)
    assert page.count("<svg") == 1
    assert "Chart of left attitude gyro" in page
    assert "None of 9 series moved." in page
    assert '<a href="#tail-2">QQ-Z1</a>' in page
    assert "Invented." in page


def test_the_sums_of_a_fleet_are_those_of_its_rows(logbook: Logbook) -> None:
    """Runs and squawks are counted in one way wherever they stand, and the paper says in which."""
    write_busy_run(logbook)
    write_busy_run(logbook, started_at=STARTED_AT + 86_400)
    write_past(logbook, 40, "QQ-Z0", Story.FAILING_GYRO)
    report = fleet_report(logbook, ("QQ-ML2", "QQ-Z0"), partial(basis_of, logbook), MAKER)
    *rows, sums = airplanes_table(report).rows
    counts = [[int(number) for number in re.findall(r"\d+", row[4])] for row in (*rows, sums)]
    assert rows[0][4] == "4 on 2 items"
    assert [sum(column) for column in zip(*counts[:-1], strict=True)] == counts[-1]
    assert sum(int(row[3]) for row in rows) == int(sums[3]) == 42
    assert open_words(report.airplanes) == f"{counts[-1][0]} squawks not closed on {counts[-1][1]} items"
    assert COUNTING in fleet_page(report)
    assert "discrepanc" not in fleet_page(report)


def test_a_fleet_says_the_same_on_its_page_and_on_paper(logbook: Logbook) -> None:
    """Every cell and paragraph of the sheet stands in the page as well."""
    write_busy_run(logbook)
    write_past(logbook, 40, "QQ-Z0", Story.FAILING_GYRO)
    report = fleet_report(logbook, ("QQ-ML2", "QQ-Z0"), partial(basis_of, logbook), MAKER)
    page = html.unescape(re.sub(r"<[^>]*>", " ", fleet_page(report)))
    said = " ".join(page.split())
    for block in fleet_sheet(report).blocks:
        match block:
            case Columns(rows=rows):
                missing = [cell for row in rows for cell in row if cell not in said]
            case Words(text=text, is_framed=False):
                missing = [part for part in text.removesuffix(".").split(": ") if part not in said]
            case Heading(text=text):
                missing = [part for part in text.split(", ", 1) if part not in said]
            case _:
                missing = []
        assert missing == []
