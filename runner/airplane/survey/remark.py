"""Remarks: one thing in an airplane file that cannot be right, or is against a rule or good practice."""

from __future__ import annotations

from dataclasses import dataclass

from runner.airplane.model.airplane import Airplane
from runner.errors import Place


@dataclass(frozen=True, slots=True)
class Remark:
    """Prints as `path:line:column: error: what; what to write instead`."""

    place: Place
    is_error: bool
    """The airplane as written cannot work so; else against a rule or good practice."""
    message: str

    def __str__(self) -> str:
        return f"{self.place}: {'error' if self.is_error else 'warning'}: {self.message}"


def error(airplane: Airplane, name: str, message: str) -> Remark:
    """Something that cannot be as written, at the place of the thing named."""
    return Remark(place_of(airplane, name), is_error=True, message=message)


def warning(airplane: Airplane, name: str, message: str) -> Remark:
    """Something against a rule or good practice, at the place of the thing named."""
    return Remark(place_of(airplane, name), is_error=False, message=message)


def place_of(airplane: Airplane, name: str) -> Place:
    """Where a named thing stands; the file's first line for what has no place of its own."""
    return airplane.places.get(name, Place(airplane.path, 1, 1))
