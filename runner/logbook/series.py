"""The values of one airplane over time: spin-up seconds of each gyro, each reading, response times."""

from collections.abc import Mapping
from dataclasses import dataclass

from runner.checklist.model import Outcome
from runner.logbook.history import one_registration
from runner.logbook.shelf import Shelf
from runner.logbook.standing import AnswerKind


@dataclass(frozen=True, slots=True)
class Point:
    """One value, out of the answer that stands in its run."""

    run: str
    at: float
    """Seconds since the epoch."""
    value: float
    outcome: Outcome
    oat_celsius: float | None
    answer: str
    """The number as said, or what became of the flag: a stuck gyro's seconds are when it was given up."""


@dataclass(frozen=True, slots=True)
class Series:
    """What one gyro or one reading of one airplane did over its runs, oldest first."""

    name: str
    """The gyro's name, or the item's."""
    kind: AnswerKind
    unit: str
    points: tuple[Point, ...]


def series_of(shelf: Shelf, airplane: str) -> tuple[Series, ...]:
    """Every series of an airplane (by registration or file name), by name; unfinished runs count as well."""
    rows = shelf.rows(
        "SELECT a.series, a.kind, a.unit, r.id, a.at, a.value, a.outcome, r.oat_celsius, a.answer "
        "FROM answer a JOIN run r ON r.number = a.run "
        "WHERE a.value IS NOT NULL AND a.registration = ? ORDER BY a.series, a.at",
        (one_registration(shelf, airplane),),
    )
    grouped: dict[tuple[str, str, str], list[Point]] = {}
    for name, kind, unit, run, at, value, outcome, oat, answer in rows:
        point = Point(run, at, value, Outcome(outcome), oat, answer)
        grouped.setdefault((name, kind, unit), []).append(point)
    return tuple(
        Series(name, AnswerKind(kind), unit, tuple(points)) for (name, kind, unit), points in grouped.items()
    )


@dataclass(frozen=True, slots=True)
class Response:
    """How long after its challenge an item was answered."""

    run: str
    item: str
    at: float
    seconds: float
    is_hasty: bool


def responses_of(
    shelf: Shelf, airplane: str, newest: int | None = None
) -> Mapping[str, tuple[Response, ...]]:
    """Response times of an airplane's runs, or of so many of its newest runs, by item, oldest first."""
    registration = one_registration(shelf, airplane)
    rows = shelf.rows(
        "SELECT r.id, a.item, a.at, a.response_seconds, a.is_hasty "
        "FROM run r JOIN answer a ON a.run = r.number "
        "WHERE r.registration = ? AND r.started_at >= ? AND a.response_seconds IS NOT NULL "
        "ORDER BY r.started_at, a.at",
        (registration, _start_of(shelf, registration, newest)),
    )
    grouped: dict[str, list[Response]] = {}
    for run, item, at, seconds, is_hasty in rows:
        grouped.setdefault(item, []).append(Response(run, item, at, seconds, bool(is_hasty)))
    return {item: tuple(responses) for item, responses in grouped.items()}


def _start_of(shelf: Shelf, registration: str, newest: int | None) -> float:
    """When the first of so many newest runs began; 0 when all are meant, or there are fewer."""
    if newest is None:
        return 0.0
    rows = shelf.rows(
        "SELECT started_at FROM run WHERE registration = ? ORDER BY started_at DESC LIMIT 1 OFFSET ?",
        (registration, newest - 1),
    )
    return float(rows[0][0]) if rows else 0.0
