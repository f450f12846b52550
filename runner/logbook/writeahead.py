"""The write-ahead log as a stop left it: what SQLite will not take over from it is kept aside and reported.

SQLite drops the log's frames from the first bad one on, without a word. A power cut in the middle of a write
leaves such a frame; so does a damaged disk.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Self

from runner.logbook.carve import carve
from runner.logbook.chain import Line
from runner.logbook.shelf import Shelf


@dataclass(frozen=True, slots=True)
class WriteAhead:
    """The log beside a database, read before SQLite opens it."""

    path: Path
    content: bytes

    @classmethod
    def read(cls, database: Path) -> Self:
        """The log of a database; empty when there is none."""
        path = Path(f"{database}-wal")
        try:
            return cls(path, path.read_bytes())
        except OSError:
            return cls(path, b"")

    def set_aside(self, shelf: Shelf) -> tuple[str, ...]:
        """Keep beside the logbook what SQLite did not take over, with a notice; nothing when it took all.

        Call it while no other process can be in the middle of a write.
        """
        lost = [line for line in carve(self.content) if not _has(shelf, line)]
        if not lost:
            return ()
        kept = self.path.with_name(f"set-aside-{lost[0].digest[:12]}.wal")
        if not kept.exists():
            kept.write_bytes(self.content)
        first = f"{lost[0].chain} line {lost[0].sequence}"
        what = f"{first} and {len(lost) - 1} more" if len(lost) > 1 else first
        notice = (
            f"an unfinished or damaged write was found ({what}); it is no part of the record, kept in {kept}"
        )
        return (notice,)


def _has(shelf: Shelf, line: Line) -> bool:
    rows = shelf.rows(
        "SELECT l.digest FROM line l JOIN chain c ON c.number = l.chain WHERE c.id = ? AND l.sequence = ?",
        (line.chain, line.sequence),
    )
    return bool(rows) and rows[0][0] == line.digest
