"""A syllabus: an instructor's standard, which checks and airplanes, which level, how well, how current."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from runner.document import NUMBER, Node, parse_document, read_all
from runner.drill.due.forgetting import RECALL_BOUNDS, RECALL_PERCENT
from runner.drill.due.practice import PracticeKind
from runner.drill.story.drill_level import LEVELS
from runner.errors import Place

SYLLABUS_REQUIRED: Final = ("syllabus", "standard")
SYLLABUS_OPTIONAL: Final = ("by", "recall")
ROW_OPTIONAL: Final = (*(kind.value for kind in PracticeKind), "level", "questions", "within", "right")
WITHIN_DAYS: Final = (1, 400)
RIGHT_PERCENT: Final = (1, 100)
QUESTIONS: Final = (1, 100)
USUAL_QUESTIONS: Final = 10
"""As many as a quiz has unless it is told otherwise."""
_ASKED: Final = {"within": (WITHIN_DAYS, "days"), "right": (RIGHT_PERCENT, "percent")}
"""Keys that every row has, with their bounds and units."""
_OWN_KEYS: Final = {"level": PracticeKind.DRILL, "questions": PracticeKind.QUIZ}
"""Keys that one kind has alone."""


@dataclass(frozen=True, slots=True)
class StandardRow:
    """One thing that must have been done, so well and so lately."""

    kind: PracticeKind
    of: str
    """A check by name; for a quiz an airplane."""
    level: int
    """Of a drill, at least; 0 for anything else."""
    questions: int
    """Of a quiz, at least; 0 for anything else."""
    within_days: int
    right_percent: int
    """Of what was asked for in one sitting, at least."""
    place: Place
    """Where the check or the airplane is named."""


@dataclass(frozen=True, slots=True)
class Syllabus:
    """One syllabus file."""

    title: str
    by: str
    recall_percent: int
    standard: tuple[StandardRow, ...]


def parse_syllabus(words: str, path: Path) -> Syllabus:
    """The syllabus of that text; FileError with the place of whatever is wrong, all mistakes at once."""
    return read_all(parse_document(words, path), _syllabus)


def _syllabus(document: Node) -> Syllabus:
    keys = document.mapping(SYLLABUS_REQUIRED, SYLLABUS_OPTIONAL)
    rows = tuple(_rows(keys["standard"].items()))
    return Syllabus(
        keys["syllabus"].text(),
        keys["by"].text() if "by" in keys else "",
        _whole(keys["recall"], RECALL_BOUNDS, "percent") if "recall" in keys else RECALL_PERCENT,
        rows,
    )


def _rows(nodes: Sequence[Node]) -> Iterator[StandardRow]:
    for number, node in enumerate(nodes, 1):
        yield _row(node.within(f"standard {number}"))


def _row(node: Node) -> StandardRow:
    keys = node.mapping((), ROW_OPTIONAL)
    kinds = [kind for kind in PracticeKind if kind.value in keys]
    if len(kinds) != 1:
        what = "nothing is asked for" if not kinds else "two things are asked for"
        node.fail(f'{what}; write one of "drill: CHECK", "recite: CHECK", "quiz: AIRPLANE"')
    named = keys[kinds[0].value]
    for key, kind in _OWN_KEYS.items():
        if key in keys and kinds[0] is not kind:
            keys[key].refuse(f'only a {kind} has "{key}"; remove it')
    return StandardRow(
        kinds[0],
        named.text(),
        _own(keys, "level", kinds[0], (1, max(LEVELS)), 1),
        _own(keys, "questions", kinds[0], QUESTIONS, USUAL_QUESTIONS),
        _asked(node, keys, "within", 30),
        _asked(node, keys, "right", 90),
        named.place,
    )


def _own(keys: Mapping[str, Node], key: str, kind: PracticeKind, bounds: tuple[int, int], usual: int) -> int:
    """The value of a key that one kind has alone: its usual one when it is left out, 0 for other kinds."""
    if kind is not _OWN_KEYS[key]:
        return 0
    return _whole(keys[key], bounds, "") if key in keys else usual


def _asked(node: Node, keys: Mapping[str, Node], key: str, usual: int) -> int:
    bounds, unit = _ASKED[key]
    if key not in keys:
        node.refuse(f'"{key}" is missing; add "{key}: {usual} {unit}"')
        return usual
    return _whole(keys[key], bounds, unit)


def _whole(node: Node, bounds: tuple[int, int], unit: str) -> int:
    """A whole number within its bounds, with its unit behind it where it has one."""
    low, high = bounds
    words = node.text()
    number, _, given = words.partition(" ")
    usual = f"{low} to {high} {unit}".strip()
    if given != unit or not (NUMBER.fullmatch(number) and number.isdigit()):
        node.refuse(f'"{words}" is not a whole number{f" of {unit}" if unit else ""}; write {usual}')
        return low
    if not low <= int(number) <= high:
        node.refuse(f'"{words}" is out of range; write {usual}')
    return int(number)
