"""Fields of an airplane file: small readers that turn a node into a checked value."""

from collections.abc import Iterable, Mapping
from datetime import date
from enum import StrEnum
from typing import Final, TypeVar

from runner.document import Node

LARGEST: Final = 100_000.0
"""No figure of an airplane is larger, whatever its unit."""

Word = TypeVar("Word", bound=StrEnum)


def amount(node: Node, *, at_least: str = "0", at_most: float | None = None) -> float:
    """A number in the unit of its key, as the limits are; both are included."""
    number = float(node.number(at_least=at_least))
    most = LARGEST if at_most is None else at_most
    if number > most:
        node.refuse(f"{node.text()} is too large; write {most:.10g} or less")
    return number


def positive(node: Node) -> float:
    """A number above nothing."""
    number = float(node.number())
    if number <= 0:
        node.refuse(f"{node.text()} is too small; write a number above 0")
    return amount(node) if number > 0 else number


def optional_amount(
    fields: Mapping[str, Node], key: str, default: float, *, at_most: float | None = None
) -> float:
    """The number under `key` in that key's unit, or the default when it is not written."""
    return amount(fields[key], at_most=at_most) if key in fields else default


def word(node: Node, kind: type[Word]) -> Word:
    """One of an enumeration's words."""
    return kind(node.one_of(tuple(kind)))


def words(node: Node, kind: type[Word]) -> tuple[Word, ...]:
    """One word of an enumeration, or a list of them."""
    return tuple(word(each, kind) for each in node.each())


def names(node: Node, known: Iterable[str]) -> tuple[str, ...]:
    """One known name, or a list of them, none twice."""
    seen: set[str] = set()
    for each in node.each():
        name = each.one_of(known)
        if name in seen and name == each.text():
            each.refuse(f'"{name}" is listed twice; keep one of them')
        seen.add(name)
    return node.texts()


def day(node: Node) -> date:
    """A date as 2026-03-31."""
    try:
        return date.fromisoformat(node.text())
    except ValueError:
        node.refuse(f'"{node.text()}" is not a date; write it as 2026-03-31')
        return date.min


def named(node: Node, noun: str) -> Mapping[str, Node]:
    """A mapping of names to entries, each inside its own context: `load "pitot heat"`."""
    entries = node.entries()
    if not entries:
        node.refuse(f"there is no {noun} here; write at least one")
    return {name: entry.within(f'{noun} "{name}"') for name, entry in entries.items()}
