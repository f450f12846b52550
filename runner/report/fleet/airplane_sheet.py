"""The report of an airplane or a fleet as a sheet: what is not closed, then what moves, then the runs.

The tables of a fleet are the same on its page as HTML.
"""

from collections.abc import Iterator, Sequence

from runner.language.catalogue import STANDING_CAUTION, Noun
from runner.logbook.list.entry_wording import moment
from runner.report.draw.paper_sheet import (
    BLANKS,
    OF_BLANKS,
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
    counted,
    moved_words,
    open_words,
    recurrence_words,
    remark_words,
    run_words,
    squawk_words,
    steady_words,
)
from runner.trend.verdict import Steadiness
from runner.trend.verdict_wording import line

RUNS = 8
"""Runs that find room on the sheet."""

NO_SQUAWK = "No squawk is open or deferred."
COUNTING = (
    "A squawk is what one run found wrong with one item; a later run that finds it again adds one. "
    "The report of one airplane tells of each, with room for the work done."
)
"""How the sums of a fleet come about."""


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
    yield Top(name, about, open_words(report.airplanes), (moved_words(report.airplanes),))
    if report.is_invented:
        words = "Invented: some or all of these runs come from a demonstration or the generator of histories."
        yield Words(words, is_framed=True)
    yield from _of_fleet(report) if only is None else _of_one(only, report.maker)
    if report.maker.witness.words():
        yield Words(f"{report.maker.witness.words()}.")


def _of_one(airplane: AirplaneReport, maker: Maker) -> Iterator[Block]:
    yield Heading("Squawks")
    yield from (_discrepancy(one, maker) for one in airplane.recurrences)
    yield Words(f"{POINTER} {OF_BLANKS}" if airplane.recurrences else NO_SQUAWK)
    yield from _past(airplane)


def _of_fleet(report: FleetReport) -> Iterator[Block]:
    yield Heading("Airplanes")
    yield airplanes_table(report)
    yield Words(COUNTING)
    for airplane in report.airplanes:
        yield Heading(f"{airplane.registration}, {airplane.title}")
        yield squawks_table(airplane) if airplane.recurrences else Words(NO_SQUAWK)
        moved = [trend for trend in airplane.trends.trends if trend.verdict.has_moved]
        yield from (Words(f"{trend.series.name}: {line(trend)}.") for trend in moved)
        if not moved:
            yield Words(steady_words(airplane))


def airplanes_table(report: FleetReport) -> Columns:
    """A row an airplane, and a last one with the sums."""
    rows = [
        (
            airplane.registration,
            moment(airplane.newest.started_at),
            run_words(airplane.newest),
            str(airplane.count),
            _not_closed([airplane]),
            "; ".join(_moved_names(airplane)) or "nothing",
        )
        for airplane in report.airplanes
    ]
    runs = str(sum(airplane.count for airplane in report.airplanes))
    sums = ("All", "", "", runs, _not_closed(report.airplanes), moved_words(report.airplanes))
    heads = ("Airplane", "Last run, UTC", "Its result", "Runs", "Squawks not closed", "Moved")
    return Columns(heads, (9, 17, 19, 7, 19, 29), [*rows, sums])


def _not_closed(airplanes: Sequence[AirplaneReport]) -> str:
    """`23 on 11 items`."""
    items = sum(len(airplane.recurrences) for airplane in airplanes)
    found = sum(airplane.open_squawks for airplane in airplanes)
    return f"{found} on {counted(items, Noun.ITEM)}" if items else "none"


def _moved_names(airplane: AirplaneReport) -> Iterator[str]:
    for trend in airplane.trends.trends:
        if trend.verdict.has_moved:
            yield f"{trend.series.name} {trend.verdict.state}"


def squawks_table(airplane: AirplaneReport) -> Columns:
    """A row an item with squawks that are not closed, the one that squawked last first."""
    rows = [
        (
            one.challenge,
            f"{squawk_words(one.last)}, expected {one.expected}" if one.expected else squawk_words(one.last),
            recurrence_words(one) if len(one.squawks) > 1 else f"1 {recurrence_words(one)}",
            moment(one.squawks[0].at),
            moment(one.last.at),
        )
        for one in airplane.recurrences
    ]
    heads = ("Item", "Last answer", "Squawks", "First, UTC", "Last, UTC")
    return Columns(heads, (25, 32, 9, 17, 17), rows)


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


def _past(airplane: AirplaneReport) -> Iterator[Block]:
    yield Heading("Trends")
    told = [trend for trend in airplane.trends.trends if trend.verdict.state is not Steadiness.TOO_FEW]
    rows = [
        (f"{trend.series.name}, {trend.series.unit}", str(trend.verdict.runs), line(trend)) for trend in told
    ]
    yield Columns(("Series", "Runs", "Verdict"), (34, 6, 60), rows)
    young = [trend.series.name for trend in airplane.trends.trends if trend not in told]
    if young:
        yield Words(f"Too few runs to tell: {', '.join(young)}.")
    shown = f"{min(RUNS, len(airplane.runs))} of {airplane.count} runs"
    yield Heading(f"Last {shown}")
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
