"""Counts of what an ear made of clips, added up over processes and turned into rows of a table."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

Key = tuple[str, str, str]
"""Set, noise and engine."""


@dataclass(slots=True)
class Tally:
    """Counts of one engine on one set in one noise."""

    right: int = 0
    refused: int = 0
    wrong: int = 0
    """Taken and wrong; on sets where nothing in force was said, all that was taken."""
    compute_seconds: float = 0.0

    @property
    def clips(self) -> int:
        """How many were heard."""
        return self.right + self.refused + self.wrong

    def add(self, text: str | None, truth: frozenset[str], compute_seconds: float) -> None:
        """One clip."""
        self.compute_seconds += compute_seconds
        if text is None:
            self.refused += 1
        elif text in truth:
            self.right += 1
        else:
            self.wrong += 1

    def join(self, other: "Tally") -> None:
        """What another process counted."""
        self.right += other.right
        self.refused += other.refused
        self.wrong += other.wrong
        self.compute_seconds += other.compute_seconds


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the table; shares in percent of all clips, compute in milliseconds a clip."""

    set_name: str
    noise: str
    engine: str
    clips: int
    right: float
    refused: float
    wrong: float
    compute_ms: float


def joined(parts: Iterable[Mapping[Key, Tally]]) -> dict[Key, Tally]:
    """The sum of several processes' counts."""
    total: dict[Key, Tally] = {}
    for part in parts:
        for key, tally in part.items():
            total.setdefault(key, Tally()).join(tally)
    return total


def rows(tallies: Mapping[Key, Tally], engines: tuple[str, ...]) -> list[Row]:
    """Sorted by set, from quiet to loud, the engines in their order."""

    def place(key: Key) -> tuple[str, float, str, int]:
        level = key[1].partition(" dB")[0]
        return key[0], -float(level) if level != key[1] else -1e9, key[1], engines.index(key[2])

    return [_row(key, tallies[key]) for key in sorted(tallies, key=place)]


def _row(key: Key, tally: Tally) -> Row:
    right, refused, wrong = (100 * x / tally.clips for x in (tally.right, tally.refused, tally.wrong))
    return Row(*key, tally.clips, right, refused, wrong, 1000 * tally.compute_seconds / tally.clips)


def to_markdown(table: list[Row]) -> str:
    """The known sets with right, refused and wrong; then the unknown ones with what was taken."""
    lines = [
        "| set | noise | engine | clips | right % | refused % | wrong % | compute, ms |",
        "|---|---|---|---|---|---|---|---|",
    ]
    known = [row for row in table if not row.set_name.startswith("unknown")]
    lines += [
        f"| {r.set_name} | {r.noise} | {r.engine} | {r.clips} "
        f"| {r.right:.1f} | {r.refused:.1f} | {r.wrong:.2f} | {r.compute_ms:.0f} |"
        for r in known
    ]
    lines += [
        "",
        "| said, but not in force | noise | engine | clips | taken % | compute, ms |",
        "|---|---|---|---|---|---|",
    ]
    lines += [
        f"| {r.set_name} | {r.noise} | {r.engine} | {r.clips} | {r.wrong:.1f} | {r.compute_ms:.0f} |"
        for r in table
        if r not in known
    ]
    return "\n".join(lines)
