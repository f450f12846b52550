"""Findings: what is questionable or wrong in a check that can still be read, with its place."""

from dataclasses import dataclass
from enum import StrEnum

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


def found(check: Check, item: Item, grade: Grade, message: str) -> Finding:
    """A finding at an item, led by its section and name as a file error is."""
    section = check.section_of(item.name)
    return Finding(item.place, grade, f'section "{section.title}": item "{item.name}": {message}')
