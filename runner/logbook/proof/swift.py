"""Finds the runs that are whole in the usual way, many at a time; whatever is odd is left to a closer look.

It proves as much as `chain_verdict.py` does one by one: the hash of each stored text, what each line carries
of the line before, the canonical form of each line, the files' texts, and that the summaries agree. Every
figure is made anew from the stored lines. It says which runs it could not prove, and never why.
"""

import sqlite3
from dataclasses import dataclass, field
from typing import Any, Final

from runner.errors import RecordError
from runner.logbook.proof.proven_run import FIGURES, TEXTS, proven_runs
from runner.logbook.proof.stored_line import OddError
from runner.logbook.record.chain import digest
from runner.logbook.record.header import KIND
from runner.logbook.record.summary_table import RUN_COLUMNS

BLOCK: Final = 40
"""Runs that are looked at together; their lines fit into a processor's cache. Of a block that is not proven
each half is looked at, down to one run."""

_ODD: Final = (
    *(OddError, RecordError, sqlite3.Error, MemoryError, RecursionError),
    *(ValueError, TypeError, LookupError, ArithmeticError, AttributeError),
)
_SPAN: Final = f"kind = '{KIND}' AND number BETWEEN ? AND ?"
_NUMBERS: Final = f"SELECT number FROM chain WHERE {_SPAN} ORDER BY number"  # noqa: S608 - constants of this module, as below
_CHAINS: Final = f"SELECT number, id, length, digest FROM chain WHERE {_SPAN} ORDER BY number"  # noqa: S608
_LINES: Final = (
    "SELECT number, sum(typeof(text) = 'text'), json_group_array(sequence), json_group_array(line.digest), "  # noqa: S608
    "CAST(group_concat(text, char(10)) AS BLOB) "
    f"FROM chain CROSS JOIN line ON line.chain = number WHERE {_SPAN} GROUP BY number"
)
_RUNS: Final = f"SELECT number, {RUN_COLUMNS} FROM run WHERE number BETWEEN ? AND ? ORDER BY number"  # noqa: S608
_GROUPED: Final = ", ".join(f"json_group_array({column})" for column in TEXTS)
_TEXTS: Final = f"SELECT run, {_GROUPED} FROM answer WHERE run BETWEEN ? AND ? GROUP BY run"  # noqa: S608
_FIGURES: Final = f"SELECT {', '.join(FIGURES)} FROM answer WHERE run BETWEEN ? AND ? ORDER BY run, item"  # noqa: S608


@dataclass(slots=True)
class Swift:
    """One pass over the runs of a logbook that is held still."""

    connection: sqlite3.Connection
    texts: dict[str, bool] = field(default_factory=dict)

    def doubtful(self, first: int, last: int) -> list[int]:
        """Numbers of the runs' chains between these two (included) that are to be looked at more closely."""
        numbers = [row[0] for row in self._rows(_NUMBERS, (first, last))]
        blocks = (numbers[start : start + BLOCK] for start in range(0, len(numbers), BLOCK))
        return [number for block in blocks for number in self._unproven(block)]

    def _unproven(self, numbers: list[int]) -> list[int]:
        try:
            self._prove((numbers[0], numbers[-1]))
        except _ODD:
            middle = len(numbers) // 2
            halves = (numbers[:middle], numbers[middle:])
            return [number for half in halves for number in self._unproven(half)] if middle else numbers
        return []

    def _prove(self, span: tuple[int, int]) -> None:
        runs = proven_runs(self._rows(_CHAINS, span), self._rows(_LINES, span))
        for sha in {sha for run in runs for sha in (run.header.check_sha256, run.header.airplane_sha256)}:
            self._require(sha)
        tables = (
            ([run.row() for run in runs], _RUNS),
            ([run.texts() for run in runs if run.items], _TEXTS),
            ([row for run in runs for row in run.figures()], _FIGURES),
        )
        if any(rows != self._rows(query, span) for rows, query in tables):
            raise OddError

    def _rows(self, query: str, span: tuple[int, int]) -> list[tuple[Any, ...]]:
        return self.connection.execute(query, span).fetchall()

    def _require(self, sha: str) -> None:
        if sha not in self.texts:
            found = self.connection.execute("SELECT text FROM snapshot WHERE sha256 = ?", (sha,)).fetchone()
            self.texts[sha] = found is not None and digest(found[0]) == sha
        if not self.texts[sha]:
            raise OddError
