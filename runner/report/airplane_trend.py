"""The trends of one airplane out of a logbook: its series joined with its maintenance, limits and weather."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from runner.checklist.load import parse_check
from runner.checklist.model import Check
from runner.errors import FileError
from runner.logbook import series as kept
from runner.logbook.history import one_registration, runs
from runner.logbook.maintenance import services_of
from runner.logbook.record import snapshots_of
from runner.logbook.series import responses_of, series_of
from runner.logbook.shelf import Shelf
from runner.logbook.standing import STUCK, AnswerKind
from runner.report.voltage import limits_of, voltage_pair
from runner.trend.series import Limits, Maintenance, Point, Quantity, Series, response_times, sag
from runner.trend.trend import RECENT, Trend, trend_of


@dataclass(frozen=True, slots=True)
class AirplaneTrends:
    """All that was trended of one tail."""

    registration: str
    trends: tuple[Trend, ...]
    is_invented: bool
    """Whether its newest run was made by a demo or the generator of histories."""


def trends_of(shelf: Shelf, airplane: str) -> AirplaneTrends:
    """Trend every series of an airplane; RecordError when the shelf has none of that name."""
    registration = one_registration(shelf, airplane)
    newest = runs(shelf, airplane=registration, limit=1)[0]
    check = _check(shelf, newest.run)
    services = services_of(shelf, registration)
    events = [Maintenance(each.at, each.what, each.series) for each in services]
    found = (trend_of(series, events) for series in _series(shelf, registration, check))
    return AirplaneTrends(registration, tuple(found), newest.is_invented)


def _check(shelf: Shelf, run: str) -> Check | None:
    """The check of a run as the logbook kept it; None when this eyesout cannot read it."""
    try:
        return parse_check(snapshots_of(shelf, run).check, Path(f"{run}.yaml"), is_recorded=True)
    except FileError:
        return None


def _series(shelf: Shelf, registration: str, check: Check | None) -> Iterator[Series]:
    limits: Mapping[str, Limits] = {} if check is None else limits_of(check)
    stored = [_measured(each, limits) for each in series_of(shelf, registration)]
    yield from sorted(stored, key=lambda series: series.quantity is not Quantity.SPIN_UP)
    pair = None if check is None else voltage_pair(check)
    named = {series.name: series for series in stored}
    if pair is not None and pair.before in named and pair.on_reserve in named:
        yield sag(named[pair.before], named[pair.on_reserve])
    yield _responses(shelf, registration, stored)


def _measured(stored: kept.Series, limits: Mapping[str, Limits]) -> Series:
    """A series of the logbook without what was no measurement: a flag that never pulled."""
    points = tuple(
        Point(each.run, each.at, each.value, each.oat_celsius)
        for each in stored.points
        if each.answer != STUCK
    )
    quantity = Quantity.SPIN_UP if stored.kind is AnswerKind.SPIN_UP else Quantity.READING
    left_out = len(stored.points) - len(points)
    return Series(stored.name, quantity, stored.unit, points, limits.get(stored.name, Limits()), left_out)


def _responses(shelf: Shelf, registration: str, stored: list[Series]) -> Series:
    seconds: dict[str, list[float]] = defaultdict(list)
    starts: dict[str, float] = {}
    for responses in responses_of(shelf, registration, newest=2 * RECENT).values():
        for response in responses:
            seconds[response.run].append(response.seconds)
            starts[response.run] = min(response.at, starts.get(response.run, response.at))
    celsius = {point.run: point.celsius for series in stored for point in series.points}
    at_runs = (
        Point(run, at, 0.0, celsius.get(run)) for run, at in sorted(starts.items(), key=lambda one: one[1])
    )
    return response_times(seconds, at_runs)
