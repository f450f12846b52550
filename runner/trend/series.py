"""Series: one value of one airplane over its runs, and where maintenance starts it anew."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from statistics import median
from typing import Final

DAY: Final = 86_400.0
MONTH: Final = 365.2425 / 12 * DAY
"""Seconds in the mean month of the calendar."""


class Quantity(StrEnum):
    """What is measured."""

    SPIN_UP = "spin-up"
    READING = "reading"
    SAG = "sag"
    RESISTANCE = "resistance"
    RESPONSE = "response"


@dataclass(frozen=True, slots=True)
class Point:
    """One value of one run."""

    run: str
    at: float
    """Seconds since the epoch."""
    value: float
    celsius: float | None = None
    """Outside air temperature of the run; None when it was not given."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Beyond these a value is a squawk; None where the check sets none."""

    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Series:
    """The values of one gyro, one reading, the sag, the resistance or the response times, oldest first."""

    name: str
    """As it is shown and spoken: the gyro's or the item's name."""
    quantity: Quantity
    unit: str
    points: tuple[Point, ...]
    limits: Limits = Limits()
    left_out: int = 0
    """Runs without a value to trend: the flag never pulled."""


@dataclass(frozen=True, slots=True)
class Maintenance:
    """Work was done: what came before is another airplane as far as a trend goes."""

    at: float
    what: str
    series: str = ""
    """The series that it concerns; empty for all of them."""


@dataclass(frozen=True, slots=True)
class Baseline:
    """The points since the last maintenance that concerns the series."""

    points: tuple[Point, ...]
    since: Maintenance | None
    """None when no maintenance is on record: from the first run on."""


def baseline(series: Series, events: Iterable[Maintenance] = ()) -> Baseline:
    """Where the series stands since it was last worked on."""
    concerns = [event for event in events if event.series in ("", series.name)]
    last = max(concerns, key=lambda event: event.at, default=None)
    points = sorted(series.points, key=lambda point: point.at)
    return Baseline(tuple(point for point in points if last is None or point.at >= last.at), last)


def sag(before: Series, on_reserve: Series) -> Series:
    """How far the volts drop in each run from before the reserve was selected to on it."""
    rested = {point.run: point.value for point in before.points}
    points = tuple(
        replace(point, value=round(rested[point.run] - point.value, 6))
        for point in on_reserve.points
        if point.run in rested
    )
    return Series(f"sag, {on_reserve.name}", Quantity.SAG, on_reserve.unit, points)


def resistance(drop: Series, amps: Mapping[str, float]) -> Series:
    """The sag per ampere in milliohms: of the battery and all that carries its current.

    `amps` by run: how much more was drawn at the second reading; a run without is left out.
    """
    points = tuple(
        replace(point, value=round(point.value / amps[point.run] * 1000, 3))
        for point in drop.points
        if amps.get(point.run, 0.0) > 0
    )
    return Series("battery resistance", Quantity.RESISTANCE, "milliohms", points)


def response_times(seconds: Mapping[str, Sequence[float]], runs: Iterable[Point]) -> Series:
    """The median response time of each run: `seconds` by run, `runs` for their times."""
    points = tuple(
        replace(point, value=median(seconds[point.run])) for point in runs if seconds.get(point.run)
    )
    return Series("response times", Quantity.RESPONSE, "seconds", points)
