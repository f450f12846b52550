"""Invented series for the trend's tests: a run a week, seeded scatter, and whatever is added to it."""

import random
from collections.abc import Callable

from runner.trend.series import DAY, Limits, Point, Quantity, Series

WEEK = 7 * DAY
STARTED_AT = 1_735_689_600.0  # 2025-01-01 UTC


def gyro(
    runs: int,
    *,
    added: Callable[[int], float] = lambda _: 0.0,
    celsius: Callable[[int], float | None] = lambda _: None,
    seed: int = 1,
    scatter: float = 1.0,
    limit: float | None = 80.0,
) -> Series:
    """A gyro of about 40 seconds; `added` seconds and `celsius` are given by the run's number."""
    chance = random.Random(seed)  # noqa: S311 - test data
    points = tuple(
        Point(
            f"run {run}", STARTED_AT + run * WEEK, 40.0 + chance.gauss(0, scatter) + added(run), celsius(run)
        )
        for run in range(runs)
    )
    return Series("left gyro", Quantity.SPIN_UP, "seconds", points, Limits(high=limit))


def rise(start: int, a_run: float) -> Callable[[int], float]:
    """Nothing until a run, then so much more with each."""
    return lambda run: max(0.0, (run - start) * a_run)


def step(start: int, size: float) -> Callable[[int], float]:
    """Nothing until a run, then so much."""
    return lambda run: size if run >= start else 0.0
