"""Practice: one thing that a student was asked for at home, and whether it came."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class PracticeKind(StrEnum):
    """In what it was asked for."""

    DRILL = "drill"
    RECITE = "recite"
    QUIZ = "quiz"


class PracticeGrade(StrEnum):
    """How it came."""

    RIGHT = "right"
    SLOW = "slow"
    """Right, but late, in the wrong place, or too quick for a look."""
    WRONG = "wrong"


@dataclass(frozen=True, slots=True)
class Sitting:
    """One drill, recitation or quiz; none of it belongs to a real airplane."""

    name: str
    """Unlike that of any other sitting."""
    begun_at: float
    """Seconds since the epoch."""
    student: str
    kind: PracticeKind
    of: str
    """The check, or for a quiz the airplane, by the stem of its file."""
    level: int = 0
    """Of a drill, from 1."""
    is_whole: bool = True
    """It came to its end; of a quiz the questions are counted instead."""


@dataclass(frozen=True, slots=True)
class Practice:
    """One thing that was asked for in a sitting."""

    sitting: Sitting
    at: float
    """Seconds since the epoch."""
    subject: str
    """The item, or what a question was about."""
    situation: str
    """What made it easy or hard: the hidden fault, the selector's position, from memory."""
    is_critical: bool
    grade: PracticeGrade
