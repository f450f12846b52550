"""YAML as the author wrote it: strings, lists and mappings, each knowing its line and column.

Nothing is converted on the way in, so `on`, `012` and `12:30` stay words; duplicate keys are refused.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import NoReturn

import yaml

from runner.errors import FileError, Place


@dataclass(frozen=True, slots=True)
class Node:
    """One value of a document: text, a list or a mapping, with its place and the words that lead to it."""

    value: str | tuple[Node, ...] | Mapping[str, Node]
    place: Place
    context: str = ""
    """What the reader is inside of, for messages: `section "Bus": item "volts"`."""
    key_place: Place | None = None
    """Where the key of this value stands, when it is a mapping's value."""

    def fail(self, message: str, *, at: Place | None = None) -> NoReturn:
        """Raise a FileError at this value's place (or `at`), led by the context."""
        lead = f"{self.context}: " if self.context else ""
        raise FileError(at or self.place, f"{lead}{message}")

    def within(self, context: str) -> Node:
        """The same node, further inside: the context grows by one step."""
        grown = f"{self.context}: {context}" if self.context else context
        return replace(self, context=grown)

    def mapping(self, required: Iterable[str] = (), optional: Iterable[str] = ()) -> Mapping[str, Node]:
        """The mapping, refused when a key is missing or unknown (the nearest known one is named)."""
        entries = self.entries()
        known = (*required, *optional)
        for key, node in entries.items():
            if key not in known:
                near = difflib.get_close_matches(key, known, n=1, cutoff=0.5)
                advice = f'did you mean "{near[0]}"?' if near else f"known keys: {', '.join(known)}"
                node.fail(f'unknown key "{key}"; {advice}', at=node.key_place)
        for key in required:
            if key not in entries:
                self.fail(f'"{key}" is missing; add "{key}: ..."')
        return entries

    def entries(self) -> Mapping[str, Node]:
        """The mapping with whatever keys it has."""
        if isinstance(self.value, (str, tuple)):
            self.fail('expected "key: value" lines here')
        return {key: replace(node, context=self.context) for key, node in self.value.items()}

    def items(self) -> tuple[Node, ...]:
        """The list; an empty list is refused."""
        if not isinstance(self.value, tuple):
            self.fail('expected a list here; start each entry with "- "')
        if not self.value:
            self.fail("the list is empty; write at least one entry")
        return tuple(replace(node, context=self.context) for node in self.value)

    def text(self) -> str:
        """The words; an empty value is refused."""
        if not isinstance(self.value, str):
            self.fail("expected plain words here, not a list or mapping")
        if not self.value.strip():
            self.fail("the value is empty; write it after the colon")
        return self.value.strip()

    def texts(self) -> tuple[str, ...]:
        """One text or a list of texts."""
        if isinstance(self.value, str):
            return (self.text(),)
        return tuple(node.text() for node in self.items())

    def number(self, *, at_least: str | None = None) -> Decimal:
        """A plain decimal number, refused when it is none or below `at_least`."""
        words = self.text()
        try:
            number = Decimal(words)
        except InvalidOperation:
            number = Decimal("NaN")
        if not number.is_finite():
            self.fail(f'"{words}" is not a number; write digits such as 24.5')
        if at_least is not None and number < Decimal(at_least):
            self.fail(f"{words} is too small; write {at_least} or more")
        return number

    def flag(self) -> bool:
        """`true` or `false`, nothing else."""
        words = self.text()
        if words not in ("true", "false"):
            self.fail(f'"{words}" is neither "true" nor "false"; write one of them')
        return words == "true"

    def one_of(self, choices: Iterable[str]) -> str:
        """A word out of a fixed set; the nearest one is named when it is not."""
        words, known = self.text(), tuple(choices)
        if words not in known:
            near = difflib.get_close_matches(words, known, n=1, cutoff=0.5)
            advice = f'did you mean "{near[0]}"?' if near else f"write one of: {', '.join(known)}"
            self.fail(f'"{words}" is not known here; {advice}')
        return words


def read_document(path: Path) -> Node:
    """Read one YAML file; FileError names the place of whatever is wrong with it."""
    try:
        words = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise FileError(Place(path, 1, 1), "there is no such file; check the name") from None
    except UnicodeDecodeError as error:
        raise FileError(
            Place(path, 1, 1), f"not UTF-8 text at byte {error.start}; save it as UTF-8"
        ) from None
    except OSError as error:
        raise FileError(Place(path, 1, 1), f"cannot be read: {error.strerror}") from None
    return parse_document(words, path)


def parse_document(words: str, path: Path) -> Node:
    """Parse YAML text as `read_document` does; `path` only names it in messages."""
    start = Place(path, 1, 1)
    try:
        root = yaml.compose(words, Loader=yaml.BaseLoader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = start if mark is None else Place(path, mark.line + 1, mark.column + 1)
        raise FileError(place, f"not YAML: {error.problem}; check indentation, colons and quotes") from None
    except yaml.YAMLError as error:
        raise FileError(start, f"not YAML: {error}; remove the character") from None
    if root is None:
        raise FileError(start, "the file is empty; write the document")
    return _node(root, path, frozenset())


def _node(raw: yaml.Node, path: Path, open_ids: frozenset[int]) -> Node:
    place = Place(path, raw.start_mark.line + 1, raw.start_mark.column + 1)
    if id(raw) in open_ids:
        raise FileError(place, "an anchor refers to itself; write the value out")
    inner = open_ids | {id(raw)}
    if isinstance(raw, yaml.ScalarNode):
        return Node(raw.value, place)
    if isinstance(raw, yaml.SequenceNode):
        return Node(tuple(_node(child, path, inner) for child in raw.value), place)
    entries: dict[str, Node] = {}
    for key, child in raw.value:
        at = Place(path, key.start_mark.line + 1, key.start_mark.column + 1)
        if not isinstance(key, yaml.ScalarNode):
            raise FileError(at, "a key must be plain words; quote or rewrite it")
        if key.value in entries:
            raise FileError(at, f'"{key.value}" is written twice; keep one of them')
        entries[key.value] = replace(_node(child, path, inner), key_place=at)
    return Node(entries, place)
