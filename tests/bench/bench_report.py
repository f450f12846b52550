"""Measures reports out of a large logbook: `python tests/bench/bench_report.py [RUNS ...]`.

Twenty-five invented airplanes share the runs. Each figure is the median of five, first within one process,
then as a whole command in a new one, start of Python included.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from runner.logbook.carry.run_export import KeptFiles
from runner.logbook.invented.synthetic import InventedAirplane, Recipe, Story, write_history
from runner.logbook.list.run_list import runs
from runner.logbook.record.run_store import Logbook
from runner.report.draw.paper import PaperSize, pdf_of
from runner.report.fleet.airplane_report import fleet_report
from runner.report.fleet.airplane_sheet import fleet_sheet
from runner.report.origin import Maker
from runner.report.report_page import fleet_page, run_page
from runner.report.run.run_report import Basis, run_report
from runner.session.parts import Parts, load_parts, recorded_parts

AIRPLANES = 25
TAIL = "QQ-Z02"
"""The one whose gyro fails: it has the most to report."""
MAKER = Maker("benchmark", 1_800_000_000.0)


def _fill(logbook: Logbook, parts: Parts, count: int) -> None:
    for number in range(AIRPLANES):
        tail = f"QQ-Z{number:02d}"
        airplane = InventedAirplane(parts.check.airplane, tail, parts.check_text, parts.airplane_text)
        recipe = Recipe(list(Story)[number % 4], number, runs=count // AIRPLANES, days_between=1.0)
        write_history(logbook, parts.check, airplane, recipe)


def _basis(logbook: Logbook, run: str) -> Basis:
    parts = recorded_parts(logbook, run)
    return Basis(parts.check, parts.airplane, parts.plan)


def _median(action: Callable[[], object]) -> str:
    def once() -> float:
        began = time.perf_counter()
        action()
        return time.perf_counter() - began

    return f"{statistics.median(once() for _ in range(5)) * 1e3:.0f}"


def _measure(folder: Path, parts: Parts, count: int) -> list[str]:
    with Logbook.open(folder) as logbook:
        _fill(logbook, parts, count)
        basis_of = partial(_basis, logbook)
        newest = runs(logbook, airplane=TAIL, limit=1)[0].run
        kept = KeptFiles(logbook, logbook.clips)
        fleet = tuple(f"QQ-Z{number:02d}" for number in range(AIRPLANES))
        inside = [
            _median(lambda: run_page(run_report(logbook, kept, newest, basis_of(newest), MAKER))),
            _median(lambda: fleet_page(fleet_report(logbook, (TAIL,), basis_of, MAKER))),
            _median(
                lambda: pdf_of(fleet_sheet(fleet_report(logbook, (TAIL,), basis_of, MAKER)), PaperSize.A4)
            ),
            _median(lambda: fleet_page(fleet_report(logbook, fleet, basis_of, MAKER))),
        ]
    to = str(folder / "report")
    command = [sys.executable, "-m", "runner.cli", "report", "--logbook", str(folder), "--to", to]
    whole = [
        _median(lambda form=form: subprocess.run([*command, TAIL, form], check=True, capture_output=True))  # type: ignore[misc] # a default binds the loop's value
        for form in ("--html", "--pdf", "--json")
    ]
    return [str(count), *inside, *whole]


def main(words: list[str]) -> None:
    """Print one row a size."""
    parts = load_parts("merlow-reserve")
    rows = [["runs", "run html", "tail html", "tail pdf", "25 html", "cli html", "cli pdf", "cli json"]]
    for count in [int(word) for word in words] or [1_000, 10_000, 100_000]:
        with tempfile.TemporaryDirectory(prefix="eyesout-bench-") as folder:
            rows.append(_measure(Path(folder), parts, count))
    print("milliseconds, median of five")
    for row in rows:
        print("  ".join(f"{cell:>9}" for cell in row))


if __name__ == "__main__":
    main(sys.argv[1:])
