"""The values of one airplane over time: spin-up seconds of each gyro, each reading, response times."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter

from runner.core.record.given_answer import AnswerKind
from runner.language.catalogue import FlagEnd, Outcome
from runner.logbook.list.run_list import one_registration
from runner.logbook.record.record_shelf import Shelf


@dataclass(frozen=True, slots=True)
class AirplanePoint:
    """One value, out of the answer that stands in its run."""

    run: str
    at: float
    """Seconds since the epoch."""
    value: float
    outcome: Outcome
    oat_celsius: float | None
    answer: str
    """The number as said, or what became of the flag: a stuck gyro's seconds are when it was given up."""

    @property
    def is_measured(self) -> bool:
        """Whether its value is one: a flag that never pulled has no spin-up."""
        return FlagEnd.told_by(self.answer) is not FlagEnd.STUCK


@dataclass(frozen=True, slots=True)
class AirplaneSeries:
    """What one gyro or one reading of one airplane did over its runs, oldest first."""

    name: str
    """The gyro's name, or the item's."""
    kind: AnswerKind
    unit: str
    points: tuple[AirplanePoint, ...]


def series_of(shelf: Shelf, airplane: str, newest: int | None = None) -> tuple[AirplaneSeries, ...]:
    """Every series of an airplane (by registration or file name), by name; unfinished runs count as well.

    Of each series all points, or so many of its newest.
    """
    registration = one_registration(shelf, airplane)
    return tuple(
        series
        for (name,) in _names(shelf, registration)
        for series in _series_named(shelf, registration, name, newest)
    )


def _names(shelf: Shelf, registration: str) -> list[tuple[str]]:
    """Names in their order, each found from the one before: DISTINCT would read every answer."""
    return shelf.rows(
        "WITH RECURSIVE known (name) AS ("
        "SELECT min(series) FROM answer WHERE registration = ? AND value IS NOT NULL "
        "UNION ALL SELECT (SELECT min(series) FROM answer "
        "WHERE registration = ? AND value IS NOT NULL AND series > known.name) "
        "FROM known WHERE known.name IS NOT NULL) SELECT name FROM known WHERE name IS NOT NULL",
        (registration, registration),
    )


def _series_named(shelf: Shelf, registration: str, name: str, newest: int | None) -> Iterator[AirplaneSeries]:
    rows = shelf.rows(
        "SELECT a.kind, a.unit, r.id, a.at, a.value, a.outcome, r.oat_celsius, a.answer "  # noqa: S608 - a number
        "FROM answer a JOIN run r ON r.number = a.run "
        "WHERE a.registration = ? AND a.series = ? AND a.value IS NOT NULL "
        f"ORDER BY a.at DESC {'' if newest is None else f'LIMIT {int(newest)}'}",
        (registration, name),
    )
    outcomes = {row[5]: Outcome(row[5]) for row in rows}
    grouped: dict[tuple[str, str], list[AirplanePoint]] = {}
    for kind, unit, run, at, value, outcome, oat, answer in reversed(rows):
        point = AirplanePoint(run, at, value, outcomes[outcome], oat, answer)
        grouped.setdefault((kind, unit), []).append(point)
    for (kind, unit), points in grouped.items():
        yield AirplaneSeries(name, AnswerKind(kind), unit, tuple(points))


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast a run was answered."""

    run: str
    pilot: str
    """Who answered; empty where nobody is named."""
    at: float
    """When its first answer began."""
    seconds: tuple[float, ...]
    """From the end of each challenge to the onset of its answer."""


def paces_of(shelf: Shelf, airplane: str, newest: int) -> tuple[Pace, ...]:
    """Response times by run, of so many of an airplane's newest runs, oldest first."""
    registration = one_registration(shelf, airplane)
    rows = shelf.rows(
        "SELECT r.id, a.at, a.response_seconds, r.pilot FROM run r JOIN answer a ON a.run = r.number "
        "WHERE r.registration = ? AND r.started_at >= ? AND a.response_seconds IS NOT NULL "
        "ORDER BY r.started_at, r.id",
        (registration, _start_of(shelf, registration, newest)),
    )
    found: list[Pace] = []
    for run, group in groupby(rows, key=itemgetter(0)):
        told = list(group)
        first = min(row[1] for row in told)
        found.append(Pace(run, str(told[0][3]), first, tuple(row[2] for row in told)))
    return tuple(sorted(found, key=lambda pace: pace.at))


def _start_of(shelf: Shelf, registration: str, newest: int | None) -> float:
    """When the first of so many newest runs began; 0 when all are meant, or there are fewer."""
    if newest is None:
        return 0.0
    rows = shelf.rows(
        "SELECT started_at FROM run WHERE registration = ? ORDER BY started_at DESC LIMIT 1 OFFSET ?",
        (registration, newest - 1),
    )
    return float(rows[0][0]) if rows else 0.0
