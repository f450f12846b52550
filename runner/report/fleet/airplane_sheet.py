"""The report of an airplane or a fleet as a sheet: what is not closed, then what moves, then the runs."""

from collections.abc import Iterator

from runner.language.catalogue import STANDING_CAUTION
from runner.logbook.list.entry_wording import moment
from runner.report.draw.paper_sheet import (
    BLANKS,
    POINTER,
    Block,
    Columns,
    Discrepancy,
    Heading,
    Sheet,
    Top,
    Words,
)
from runner.report.draw.stamp import both_stamps, utc_stamp
from runner.report.fleet.airplane_report import AirplaneReport, FleetReport, Recurrence
from runner.report.origin import Maker
from runner.report.run.run_wording import (
    moved_words,
    open_words,
    recurrence_words,
    remark_words,
    run_words,
    squawk_words,
)
from runner.trend.verdict_wording import line

RUNS = 8
"""Runs that find room on the sheet."""


def fleet_sheet(report: FleetReport) -> Sheet:
    """The sheet; one airplane fits on one page unless it has many squawks."""
    names = ", ".join(airplane.registration for airplane in report.airplanes)
    return Sheet(
        title=f"{names}: squawks, trends, runs",
        at=report.maker.at,
        foot=f"{STANDING_CAUTION} Made {utc_stamp(report.maker.at)} by {report.maker.tool}.",
        blocks=tuple(_blocks(report)),
    )


def _blocks(report: FleetReport) -> Iterator[Block]:
    only = report.airplanes[0] if len(report.airplanes) == 1 else None
    name = f"{len(report.airplanes)} airplanes" if only is None else only.registration
    about = "squawks, trends, runs" if only is None else only.title
    yield Top(name, about, open_words(report), (moved_words(report),))
    if report.is_invented:
        words = "Invented: some or all of these runs come from a demonstration or the generator of histories."
        yield Words(words, is_framed=True)
    for airplane in report.airplanes:
        yield Heading("Squawks" if only else airplane.registration)
        yield from (_discrepancy(one, report.maker) for one in airplane.recurrences)
        if not airplane.recurrences:
            yield Words("No squawk is open or deferred.")
    yield Words(POINTER)
    for airplane in report.airplanes:
        yield from _past(airplane, "" if only else f"{airplane.registration}: ")
    if report.maker.witness.words():
        yield Words(f"{report.maker.witness.words()}.")


def _discrepancy(one: Recurrence, maker: Maker) -> Discrepancy:
    expected = f", expected {one.expected}" if one.expected else ""
    many = len(one.squawks) > 1
    times = f" since {moment(one.squawks[0].at)} UTC, the last" if many else "; raised"
    lines = [
        f"{squawk_words(one.last)}{expected}",
        f"{recurrence_words(one)}{times} {both_stamps(one.last.at, maker.zone)} in run {one.last.run}",
        *([f"shared: {'; '.join(map(str, one.feeds))}"] if one.feeds else []),
        *(f"{utc_stamp(each.at)}, {each.by}: {remark_words(each)}" for each in one.last.records),
    ]
    return Discrepancy(one.challenge, tuple(lines), BLANKS)


def _past(airplane: AirplaneReport, lead: str) -> Iterator[Block]:
    yield Heading(f"{lead}trends" if lead else "Trends")
    rows = [
        (f"{trend.series.name}, {trend.series.unit}", str(trend.verdict.runs), line(trend))
        for trend in airplane.trends.trends
    ]
    yield Columns(("Series", "Runs", "Verdict"), (27, 8, 65), rows)
    shown = f"{min(RUNS, len(airplane.runs))} of {airplane.count} runs"
    yield Heading(f"{lead}last {shown}" if lead else f"Last {shown}")
    yield Columns(
        ("Started, UTC", "Result", "Pilot", "Run"),
        (18, 30, 20, 32),
        [
            (moment(run.started_at), run_words(run), run.pilot or "not named", run.run)
            for run in airplane.runs[:RUNS]
        ],
    )
    for service in airplane.services[:3]:
        yield Words(f"Work done {moment(service.at)} UTC, {service.by}: {service.what}")
