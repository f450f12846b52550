"""Faults: `python tests/bench/bench_fault.py [RUNS]`.

Whole checks through the real loop and its real threads on simulated time. In each run the calls of one port,
or of all, raise, hang or come late. Afterwards it must have gone on to its end or stopped with its reason;
the clocks must be right, nothing acknowledged lost, no thread left, and the record must give the same state.
"""

import sys
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from tests.session.fault import FAULTS, Plan, every_fault, one_fault
from tests.session.faulty_run import FaultyRun

RUNS: Final = 1100


@dataclass
class Row:
    """What came of the runs with one fault."""

    name: str
    runs: int = 0
    met: int = 0
    went_on: int = 0
    stopped: int = 0
    violations: int = 0

    def take(self, plan: Plan) -> None:
        """One more run."""
        run = FaultyRun(plan)
        self.runs += 1
        self.met += len(plan.happened) + plan.unnoticed
        self.stopped += run.stopped_by is not None
        self.went_on += run.stopped_by is None and not run.violations
        self.violations += len(run.violations)
        for words in run.violations:
            print(f"  {self.name}, seed {plan.seed}: {words}", file=sys.stderr)


def rows(runs: int) -> Iterable[Row]:
    """One for each fault, and one for all at once with what is left of the runs."""
    each = runs // (len(FAULTS) + 2)
    for place, kind in FAULTS:
        row = Row(f"{place} {kind}")
        for seed in range(each):
            row.take(one_fault(1000 + seed, place, kind))
        yield row
    row = Row("all at once")
    for seed in range(runs - each * len(FAULTS)):
        row.take(every_fault(1000 + seed))
    yield row


def main() -> int:
    """Print the table; 1 when something was violated."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else RUNS
    total = Row("together")
    print(f"{'port and fault':<24}{'runs':>6}{'faults':>8}{'went on':>9}{'stopped':>9}{'violations':>12}")
    for row in rows(runs):
        print(f"{row.name:<24}{row.runs:>6}{row.met:>8}{row.went_on:>9}{row.stopped:>9}{row.violations:>12}")
        for name in ("runs", "met", "went_on", "stopped", "violations"):
            setattr(total, name, getattr(total, name) + getattr(row, name))
    print(
        f"{total.name:<24}{total.runs:>6}{total.met:>8}{total.went_on:>9}{total.stopped:>9}{total.violations:>12}"
    )
    return int(total.violations > 0)


if __name__ == "__main__":
    sys.exit(main())
