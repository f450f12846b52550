"""The trends of one airplane out of a logbook: its series joined with its maintenance, limits and weather."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from runner.checklist.format.check import Check
from runner.checklist.format.check_load import parse_check
from runner.core.record.given_answer import AnswerKind
from runner.errors import EyesoutError, FileError
from runner.logbook.list import airplane_series as kept
from runner.logbook.list.airplane_series import paces_of, series_of
from runner.logbook.list.run_list import one_registration, runs
from runner.logbook.record.header import NO_AIRPLANE, RunHeader
from runner.logbook.record.record import snapshots_of
from runner.logbook.record.record_shelf import Shelf
from runner.logbook.squawk.maintenance_record import services_of
from runner.report.fleet.load_step import steps_by_run
from runner.report.fleet.voltage import limits_of, voltage_pair
from runner.trend.judged_series import RECENT, Trend, trend_of
from runner.trend.series import Limits, Maintenance, Point, Quantity, Series, resistance, response_times, sag
from runner.trend.verdict_wording import spoken


@dataclass(frozen=True, slots=True)
class AirplaneTrends:
    """All that was trended of one tail."""

    registration: str
    trends: tuple[Trend, ...]
    is_invented: bool
    """Whether its newest run was made by a demo or the generator of histories."""


NEWEST: Final = RECENT + RECENT // 4
"""Points of a series that are read: those that are looked at, and room for flags that never pulled."""


def trends_of(
    shelf: Shelf,
    airplane: str,
    checks: Mapping[str, Check] | None = None,
    headers: Mapping[str, RunHeader] | None = None,
) -> AirplaneTrends:
    """Trend every series of an airplane; RecordError when the shelf has none of that name.

    `checks` and `headers` are those that the caller has read already, by run.
    """
    registration = one_registration(shelf, airplane)
    newest = runs(shelf, airplane=registration, limit=1)[0]
    if registration == NO_AIRPLANE:  # these runs may be of many airplanes: they make no series together
        return AirplaneTrends(registration, (), newest.is_invented)
    check = (checks or {}).get(newest.run) or _check(shelf, newest.run)
    services = services_of(shelf, registration)
    events = [Maintenance(each.at, each.what, each.series) for each in services]
    found = (trend_of(series, events) for series in _series(shelf, registration, check, headers or {}))
    return AirplaneTrends(registration, tuple(found), newest.is_invented)


def _check(shelf: Shelf, run: str) -> Check | None:
    """The check of a run as the logbook kept it; None when this eyesout cannot read it."""
    try:
        return parse_check(snapshots_of(shelf, run).check, Path(f"{run}.yaml"), is_recorded=True)
    except FileError:
        return None


def _series(
    shelf: Shelf, registration: str, check: Check | None, headers: Mapping[str, RunHeader]
) -> Iterator[Series]:
    limits: Mapping[str, Limits] = {} if check is None else limits_of(check)
    stored = [_measured(each, limits) for each in series_of(shelf, registration, NEWEST)]
    yield from sorted(stored, key=lambda series: series.quantity is not Quantity.SPIN_UP)
    pair = None if check is None else voltage_pair(check)
    named = {series.name: series for series in stored}
    if pair is not None and pair.before in named and pair.on_reserve in named:
        drop = sag(named[pair.before], named[pair.on_reserve])
        yield drop
        amps = steps_by_run(shelf, (point.run for point in drop.points), pair, headers)
        if amps:
            yield resistance(drop, amps)
    yield from _responses(shelf, registration, stored)


def _measured(stored: kept.AirplaneSeries, limits: Mapping[str, Limits]) -> Series:
    """A series of the logbook without what was no measurement: a flag that never pulled."""
    points = tuple(
        Point(each.run, each.at, each.value, each.oat_celsius) for each in stored.points if each.is_measured
    )
    quantity = Quantity.SPIN_UP if stored.kind is AnswerKind.SPIN_UP else Quantity.READING
    left_out = len(stored.points) - len(points)
    return Series(stored.name, quantity, stored.unit, points, limits.get(stored.name, Limits()), left_out)


def _responses(shelf: Shelf, registration: str, stored: list[Series]) -> Iterator[Series]:
    """One series a person: how fast somebody answers says nothing of somebody else's habits."""
    paces = paces_of(shelf, registration, RECENT)
    celsius = {point.run: point.celsius for series in stored for point in series.points}
    pilots = tuple(dict.fromkeys(pace.pilot for pace in paces)) or ("",)
    for pilot in pilots:
        own = [pace for pace in paces if pace.pilot == pilot]
        runs_of = (Point(pace.run, pace.at, 0.0, celsius.get(pace.run)) for pace in own)
        series = response_times({pace.run: pace.seconds for pace in own}, runs_of)
        who = pilot or "nobody named"
        yield series if len(pilots) == 1 else replace(series, name=f"{series.name} of {who}")


def moves_of(shelf: Shelf, registration: str) -> str:
    """What moved, in the sentence that is spoken at a run's end; nothing where all is steady or unread."""
    try:
        return spoken(trends_of(shelf, registration).trends) or ""
    except EyesoutError:
        return ""  # the run itself is over and on record; `eyesout trend` tells what is wrong
