"""Measures how the logbook grows: `python tests/bench/bench_logbook.py [RUNS ...]` (1000 10000 100000).

Twenty-five invented airplanes share the runs. Each figure is the median of five; the first opening is
measured in a new process, as `eyesout history` would do it.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from runner.core.record.entry import Held
from runner.logbook.invented.synthetic import InventedAirplane, Recipe, Story, write_history
from runner.logbook.list.airplane_series import series_of
from runner.logbook.list.run_list import find_run, runs
from runner.logbook.proof.audit import audit_folder
from runner.logbook.record.record import entries_of
from runner.logbook.record.run_store import Logbook
from runner.logbook.squawk.squawk_record import squawks
from runner.session.parts import Parts, load_parts

AIRPLANES = 25
OPENED = """
import sys, time
from pathlib import Path
from runner.logbook.list.run_list import runs
from runner.logbook.record.run_store import Logbook
began = time.perf_counter()
with Logbook.open(Path(sys.argv[1])) as logbook:
    runs(logbook, limit=20)
print(time.perf_counter() - began)
"""


def _registration(number: int) -> str:
    return f"QQ-Z{number:02d}"


def _fill(folder: Path, parts: Parts, count: int) -> float:
    stories = list(Story)
    began = time.perf_counter()
    with Logbook.open(folder) as logbook:
        for number in range(AIRPLANES):
            airplane = InventedAirplane(
                parts.check.airplane, _registration(number), parts.check_text, parts.airplane_text
            )
            recipe = Recipe(
                stories[number % len(stories)], seed=number, runs=count // AIRPLANES, days_between=1.0
            )
            write_history(logbook, parts.check, airplane, recipe)
    return time.perf_counter() - began


def _median(action: Callable[[], object], times: int = 5) -> float:
    def once() -> float:
        began = time.perf_counter()
        action()
        return time.perf_counter() - began

    return statistics.median(once() for _ in range(times))


def _append_seconds(logbook: Logbook, parts: Parts) -> float:
    with logbook.create_run(
        check=parts.check.name,
        check_text=parts.check_text,
        airplane=parts.check.airplane,
        airplane_text=parts.airplane_text,
        registration="QQ-APP",
        pilot="invented pilot",
        started_at=time.time(),
        is_invented=True,
    ) as handle:
        return _median(lambda: handle.append(Held(time.time())), times=200)


def _open_seconds(folder: Path) -> float:
    command = [sys.executable, "-c", OPENED, str(folder)]
    return statistics.median(
        float(subprocess.run(command, check=True, capture_output=True).stdout) for _ in range(5)
    )


def _measure(folder: Path, parts: Parts, count: int) -> list[str]:
    filled = _fill(folder, parts, count)
    tail = _registration(2)
    with Logbook.open(folder) as logbook:
        size = logbook.path.stat().st_size
        lines = logbook.rows("SELECT count(*) FROM line")[0][0]
        points = sum(len(series.points) for series in series_of(logbook, tail))
        actions: list[Callable[[], object]] = [
            lambda: runs(logbook, limit=20),
            lambda: runs(logbook, airplane=tail),
            lambda: series_of(logbook, tail),
            lambda: squawks(logbook, airplane=tail),
            lambda: entries_of(logbook, find_run(logbook, "last").run),
        ]
        times = [_median(action) for action in actions]
        append = _append_seconds(logbook, parts)
    opened = _open_seconds(folder)
    verified = _median(lambda: audit_folder(folder), times=1)
    sys.stdout.write(
        f"{count:>7} runs, {lines} lines, {size / 1e6:.0f} MB, {points} points of one airplane, "
        f"written in {filled:.1f} s, verified in {verified:.1f} s\n"
    )
    return [f"{count}", *(f"{seconds * 1e3:.1f}" for seconds in (opened, *times, append))]


def main(words: list[str]) -> None:
    """Print one row a size."""
    counts = [int(word) for word in words] or [1_000, 10_000, 100_000]
    parts = load_parts("merlow-reserve")
    titles = ["runs", "open+list", "list 20", "list tail", "series", "squawks", "one run", "append"]
    rows = [titles]
    for count in counts:
        with tempfile.TemporaryDirectory(prefix="eyesout-bench-") as folder:
            rows.append(_measure(Path(folder), parts, count))
    sys.stdout.write("\nmilliseconds, median\n")
    for row in rows:
        sys.stdout.write("  ".join(f"{cell:>10}" for cell in row) + "\n")


if __name__ == "__main__":
    main(sys.argv[1:])
