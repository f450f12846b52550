"""The list of what is due: by what was practised, by what is forgotten of it, by what a syllabus asks for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from runner.drill.due.forgetting import Memory, memory_of
from runner.drill.due.practice import Practice, PracticeGrade, PracticeKind
from runner.drill.due.syllabus import StandardRow

DAY_SECONDS: Final = 86_400.0


@dataclass(frozen=True, slots=True)
class DueThing:
    """One item in one situation."""

    kind: PracticeKind
    of: str
    subject: str
    situation: str
    is_critical: bool
    memory: Memory


@dataclass(frozen=True, slots=True)
class JudgedStandard:
    """One row of a syllabus against what a student did."""

    row: StandardRow
    met_at: float | None
    """When it was done well enough last, seconds since the epoch; None when it never was."""
    is_current: bool


def due_things(practised: Sequence[Practice], now: float, recall_percent: int) -> tuple[DueThing, ...]:
    """Everything that was ever practised: critical things first, then those that are forgotten most."""
    kept: dict[tuple[PracticeKind, str, str, str], list[Practice]] = {}
    for each in practised:
        key = (each.sitting.kind, each.sitting.of, each.subject, each.situation)
        kept.setdefault(key, []).append(each)
    found = [
        DueThing(*key, any(each.is_critical for each in lines), memory_of(lines, now, recall_percent))
        for key, lines in kept.items()
    ]
    return tuple(sorted(found, key=_urgency))


def judged_standard(
    rows: Sequence[StandardRow], practised: Sequence[Practice], now: float
) -> tuple[JudgedStandard, ...]:
    """Each row with the latest sitting that meets it."""
    sittings: dict[str, list[Practice]] = {}
    for each in practised:
        sittings.setdefault(each.sitting.name, []).append(each)
    return tuple(_judged(row, sittings, now) for row in rows)


def _judged(row: StandardRow, sittings: Mapping[str, Sequence[Practice]], now: float) -> JudgedStandard:
    met = [lines[0].sitting.begun_at for lines in sittings.values() if _meets(row, lines)]
    latest = max(met, default=None)
    return JudgedStandard(row, latest, latest is not None and now - latest <= row.within_days * DAY_SECONDS)


def _meets(row: StandardRow, lines: Sequence[Practice]) -> bool:
    sitting = lines[0].sitting
    right = sum(each.grade is PracticeGrade.RIGHT for each in lines)
    return (
        (sitting.kind, sitting.of) == (row.kind, Path(row.of).stem)
        and sitting.is_whole
        and sitting.level >= row.level
        and len(lines) >= row.questions
        and right * 100 >= row.right_percent * len(lines)
    )


def _urgency(thing: DueThing) -> tuple[bool, float, str, str]:
    return not thing.is_critical, thing.memory.low, thing.of, thing.subject
