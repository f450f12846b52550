"""Measures the verdicts on invented histories, run by run, and how long a large logbook takes; prints both.

Run: python tests/bench/bench_trend.py [verdicts | speed] [RUNS]
Seeds below 1,000 are for this report; the procedure was tuned on seeds from 5,000 on.
"""

import statistics
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from runner.checklist.kind.spin_up import SpinUp  # noqa: E402 - the repository comes first
from runner.logbook.invented.synthetic import InventedAirplane, Recipe, Story, mornings, write_history  # noqa: E402
from runner.logbook.list.airplane_series import series_of  # noqa: E402
from runner.logbook.record.run_store import Logbook  # noqa: E402
from runner.report.fleet.airplane_trend import trends_of  # noqa: E402
from runner.report.fleet.voltage import limits_of, voltage_pair  # noqa: E402
from runner.session.parts import Parts, load_parts  # noqa: E402
from runner.trend.drift import FEWEST  # noqa: E402
from runner.trend.judged_series import trend_of  # noqa: E402
from runner.trend.series import Limits, Point, Quantity, Series, sag  # noqa: E402
from runner.trend.verdict import TrendVerdict  # noqa: E402

SEEDS = range(100)
STEADY = (Story.NORMAL_WEAR, Story.COLD_MORNINGS)
WITHIN = 8
CHECK = "tarn-reserve"
AIRPLANES = 25


def history(parts: Parts, recipe: Recipe) -> list[Series]:
    """Every gyro, reading and the sag, as the logbook would give them: rounded as they are recorded."""
    days = list(mornings(parts.check, recipe))
    limits, found = limits_of(parts.check), {}
    for item in parts.check.items:
        is_gyro = isinstance(item.body, SpinUp)
        named = "spin_up_seconds" if is_gyro else "readings"
        if item.name not in getattr(days[0], named):
            continue
        name = item.body.gyro if isinstance(item.body, SpinUp) else item.name
        points = tuple(
            Point(
                str(run), day.at, round(getattr(day, named)[item.name], 2 if is_gyro else 1), day.oat_celsius
            )
            for run, day in enumerate(days)
        )
        quantity = Quantity.SPIN_UP if is_gyro else Quantity.READING
        found[name] = Series(name, quantity, "", points, limits.get(name, Limits()))
    pair = voltage_pair(parts.check)
    if pair is not None:
        drop = sag(found[pair.before], found[pair.on_reserve])
        found[drop.name] = drop
    return list(found.values())


def verdicts(series: Series, first: int = FEWEST) -> Iterator[tuple[int, TrendVerdict]]:
    """The verdict after each run, as a pilot would have heard it: (number of the run, verdict)."""
    for runs in range(first, len(series.points) + 1):
        yield runs - 1, trend_of(replace(series, points=series.points[:runs])).verdict


def steady(parts: Parts, story: Story) -> str:
    """False alarms in histories in which nothing fails."""
    by_series: Counter[str] = Counter()
    alarmed = 0
    for seed in SEEDS:
        moved = {
            series.name
            for series in history(parts, Recipe(story, seed, runs=60))
            if any(verdict.has_moved for _, verdict in verdicts(series))
        }
        by_series.update(moved)
        alarmed += bool(moved)
    worst = max(by_series.values(), default=0)
    return (
        f"{story}, 60 runs: {alarmed} of {len(SEEDS)} airplanes with any false alarm in any series, "
        f"{worst} of {len(SEEDS)} in the worst single series {dict(by_series)}"
    )


def failing(parts: Parts, **change: float) -> str:
    """How soon a gyro that fails is reported."""
    recipe = Recipe(Story.FAILING_GYRO, 0, runs=20 + 30, **change)  # type: ignore[arg-type] # named floats of the recipe
    delays: list[int] = []
    states: Counter[str] = Counter()
    early = 0
    for seed in SEEDS:
        gyro = next(
            each for each in history(parts, replace(recipe, seed=seed)) if each.quantity is Quantity.SPIN_UP
        )
        told = [(run, verdict) for run, verdict in verdicts(gyro) if verdict.has_moved]
        early += any(run < recipe.onset for run, _ in told)
        since = [(run - recipe.onset, verdict) for run, verdict in told if run >= recipe.onset]
        delays.append(since[0][0] if since else 99)
        if since:
            states[since[0][1].state] += 1
    within = [sum(delay <= WITHIN - strict for delay in delays) for strict in (0, 1)]
    return (
        f"{change or 'as the generator makes it: 10 % a month, a run a week, 3 % scatter'}: reported "
        f"within {WITHIN} runs after the onset run {within[0]} of {len(SEEDS)}, counting it {within[1]}, "
        f"median {statistics.median(delays):g} runs, before the onset {early}; first said {dict(states)}"
    )


def speed(parts: Parts, runs: int) -> Iterator[str]:
    """Trend one airplane's series out of a logbook of many."""
    with tempfile.TemporaryDirectory() as folder, Logbook.open(Path(folder)) as logbook:
        for number in range(AIRPLANES):
            airplane = InventedAirplane(
                parts.check.airplane, f"QQ-Z{number:02d}", parts.check_text, parts.airplane_text
            )
            recipe = Recipe(list(Story)[number % 4], number, runs=runs // AIRPLANES, days_between=1.0)
            write_history(logbook, parts.check, airplane, recipe)
        for action, words in ((series_of, "reading the series alone"), (trends_of, "trends of one airplane")):
            took = []
            for _ in range(5):
                began = time.perf_counter()
                found = action(logbook, "QQ-Z02")
                took.append(time.perf_counter() - began)

            count = len(found.trends) if not isinstance(found, tuple) else len(found)
            yield f"{runs} runs of {AIRPLANES} airplanes: {words} ({count}): {statistics.median(took):.3f} s"


def main(words: list[str]) -> None:
    """Print what was measured."""
    parts = load_parts(CHECK)
    if "speed" not in words:
        for story in STEADY:
            print(steady(parts, story), flush=True)
        for change in ({}, {"growth_per_month": 0.05}, {"noise_share": 0.05}, {"days_between": 3.5}):
            print(failing(parts, **change), flush=True)
    if "verdicts" not in words:
        counts = [int(word) for word in words if word.isdigit()] or [1_000, 10_000, 100_000]
        for count in counts:
            for line in speed(parts, count):
                print(line, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
