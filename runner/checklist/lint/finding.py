"""Findings: what is questionable or wrong in a check that can still be read, with its place."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from runner.checklist.format.check import Check, Item
from runner.errors import Place


class Grade(StrEnum):
    """How much a finding weighs."""

    ERROR = "error"
    """The check contradicts its airplane, or itself: not to be run."""
    WARNING = "warning"
    """Against a published rule of checklist design."""
    ADVICE = "advice"
    """Good practice that the author may decline."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to look at; prints as `path:line:column: grade: message`."""

    place: Place
    grade: Grade
    message: str

    def __str__(self) -> str:
        return f"{self.place}: {self.grade}: {self.message}"


_OWN: Final = re.compile(r'"[^"]*"(?:(?:, | and |, and )"[^"]*")*|\d+(?:\.\d+)?')
"""What is a finding's own, and not its rule's: names, words and figures."""
_FEW: Final = 12
"""So many places are listed after the first."""


def folded(findings: Iterable[Finding]) -> tuple[str, ...]:
    """A line for each rule that something is against, in the order of the first: it, and where else."""
    rules: dict[tuple[object, ...], list[Finding]] = {}
    for one in findings:
        rules.setdefault((one.place.path, one.grade, _OWN.sub("", one.message)), []).append(one)
    return tuple(_folded(first, others) for first, *others in rules.values())


def _folded(first: Finding, others: list[Finding]) -> str:
    """`path:line:column: grade: message (and 2 more alike, at 20:5, 31:5)`."""
    if not others:
        return str(first)
    elsewhere = [one.place for one in others if one.place != first.place]
    places = list(dict.fromkeys(f"{place.line}:{place.column}" for place in elsewhere))
    more = f" and {len(places) - _FEW} other places; --json lists all" if len(places) > _FEW else ""
    at = f", at {', '.join(places[:_FEW])}{more}" if places else ""
    return f"{first} (and {len(others)} more alike{at})"


def found(check: Check, item: Item, grade: Grade, message: str) -> Finding:
    """A finding at an item, led by its section and name as a file error is."""
    section = check.section_of(item.name)
    return Finding(item.place, grade, f'section "{section.title}": item "{item.name}": {message}')
