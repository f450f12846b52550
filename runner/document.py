"""YAML as the author wrote it: strings, lists and mappings, each knowing its line and column.

Nothing is converted on the way in, so `on`, `012` and `12:30` stay words; duplicate keys are refused.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import chain
from pathlib import Path
from typing import Final, NoReturn, TypeVar

import yaml

from runner.errors import FileError, MistakesError, Place

Made = TypeVar("Made")

MOST_MISTAKES: Final = 50
"""So many mistakes of one file are told at once."""

FAST: Final = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
"""libyaml, where PyYAML was built with it: it takes a thirtieth of the time or less."""

ODD: Final = re.compile(r"[\t\ufeff]|[|>][-+0-9]{0,2}#")
"""Tabs, marks of byte order and comments right behind a block's sign: libyaml takes them in more places."""

NUMBER = re.compile(r"-?[0-9]{1,9}(\.[0-9]{1,9})?")
"""A plain decimal number: no exponent, underscore or other script, which an author would not mean."""


@dataclass(frozen=True, slots=True)
class Node:
    """One value of a document: text, a list or a mapping, with its place and the words that lead to it."""

    value: str | tuple[Node, ...] | Mapping[str, Node]
    place: Place
    context: str = ""
    """What the reader is inside of, for messages: `section "Bus": item "volts"`."""
    key_place: Place | None = None
    """Where the key of this value stands, when it is a mapping's value."""
    told: frozenset[tuple[Place, str]] = frozenset()
    """Mistakes that were told already: the reader passes over them, to find those that come after."""
    is_absent: bool = False
    """Stands for a value that is missing, which was told already."""

    def fail(self, message: str, *, at: Place | None = None) -> NoReturn:
        """Raise a FileError at this value's place (or `at`), led by the context."""
        lead = f"{self.context}: " if self.context else ""
        raise FileError(at or self.place, f"{lead}{message}")

    def refuse(self, message: str, *, at: Place | None = None) -> None:
        """As `fail`, but goes on where this was told already: what is read then is thrown away."""
        lead = f"{self.context}: " if self.context else ""
        is_told = self.is_absent or (at or self.place, f"{lead}{message}") in self.told
        is_spoilt = isinstance(self.value, str) and any(place == self.place for place, _ in self.told)
        if not is_told and not is_spoilt:
            self.fail(message, at=at)

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
                node.refuse(f'unknown key "{key}"; {nearest(key, known, "known keys")}', at=node.key_place)
        for key in required:
            if key not in entries:
                self.refuse(f'"{key}" is missing; add "{key}: ..."')
        absent = Node("", self.place, self.context, told=self.told, is_absent=True)
        return {**dict.fromkeys(required, absent), **entries} if self.told else entries

    def entries(self) -> Mapping[str, Node]:
        """The mapping with whatever keys it has."""
        if isinstance(self.value, (str, tuple)):
            self.refuse('expected "key: value" lines here')
            return {}
        return {key: replace(node, context=self.context, told=self.told) for key, node in self.value.items()}

    def items(self) -> tuple[Node, ...]:
        """The list; an empty list is refused."""
        if not isinstance(self.value, tuple):
            self.refuse('expected a list here; start each entry with "- "')
            return ()
        if not self.value:
            self.refuse("the list is empty; write at least one entry")
        return tuple(replace(node, context=self.context, told=self.told) for node in self.value)

    def text(self) -> str:
        """The words; an empty value is refused."""
        if not isinstance(self.value, str):
            self.refuse("expected plain words here, not a list or mapping")
            return ""
        if not self.value.strip():
            self.refuse("the value is empty; write it after the colon")
        return self.value.strip()

    def each(self) -> tuple[Node, ...]:
        """One text, or the list."""
        return (self,) if isinstance(self.value, str) else self.items()

    def texts(self) -> tuple[str, ...]:
        """One text or a list of texts."""
        return tuple(node.text() for node in self.each())

    def number(self, *, at_least: str | None = None) -> Decimal:
        """A plain decimal number, refused when it is none or below `at_least`."""
        words = self.text()
        if not NUMBER.fullmatch(words):
            self.refuse(f'"{words}" is not a number; write digits such as 24.5')
            return Decimal(at_least or 1)
        number = Decimal(words)
        if at_least is not None and number < Decimal(at_least):
            self.refuse(f"{words} is too small; write {at_least} or more")
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
            self.refuse(f'"{words}" is not known here; {nearest(words, known, "write one of")}')
            return known[0] if known else words
        return words


def read_all(document: Node, read: Callable[[Node], Made]) -> Made:
    """What `read` makes of a document; MistakesError with all of its mistakes, not only the first.

    Where a mistake was told, it is read once more and passes over that, until nothing new is found.
    """
    told: list[FileError] = []
    while True:
        marks = frozenset((error.place, error.message) for error in told)
        try:
            made = read(replace(document, told=marks))
        except FileError as error:
            if (error.place, error.message) not in marks and len(told) < MOST_MISTAKES:
                told.append(error)
                continue
        except (ArithmeticError, LookupError, TypeError, ValueError):
            if not told:  # else it is a consequence of what was passed over
                raise
        else:
            if not told:
                return made
        raise together(told)


def together(told: Sequence[FileError]) -> FileError:
    """One error for all of these mistakes of a file (one at least), in the file's order."""
    if len(told) == 1:
        return told[0]
    return MistakesError(sorted(told, key=lambda error: (error.place.line, error.place.column)))


def nearest(words: str, known: Iterable[str], lead: str) -> str:
    """Advice for a word that is not known: the nearest known one, or after `lead` all of them."""
    choices = tuple(known)
    return nearest_one(words, choices) or f"{lead}: {', '.join(choices)}"


def nearest_one(words: str, known: Iterable[str]) -> str:
    """The same where there are too many to list: nothing when none is near."""
    near = difflib.get_close_matches(words, tuple(known), n=1, cutoff=0.5)
    return f'did you mean "{near[0]}"?' if near else ""


def read_document(path: Path) -> Node:
    """Read one YAML file; FileError names the place of whatever is wrong with it."""
    return parse_document(read_words(path), path)


def read_words(path: Path) -> str:
    """The exact text of a file; FileError when it cannot be read or is not UTF-8."""
    start = Place(path, 1, 1)
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        raise FileError(start, "there is no such file; check the name") from None
    except OSError as error:
        raise FileError(start, f"cannot be read: {error.strerror}; check the name and its rights") from None
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        place = _place_in(raw[: error.start].decode("utf-8", errors="replace"), path)
        raise FileError(place, "not UTF-8 text from here on; save the file as UTF-8") from None


def parse_document(words: str, path: Path) -> Node:
    """Parse YAML text as `read_document` does; `path` only names it in messages."""
    start = Place(path, 1, 1)
    try:
        root = _composed(words)
        if root is not None:
            return _Reader(path, {}).node(root, frozenset())
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = start if mark is None else Place(path, mark.line + 1, mark.column + 1)
        raise FileError(place, f"not YAML: {_advice(error.problem or '')}") from None
    except yaml.reader.ReaderError as error:
        place = _place_in(words[: error.position], path)
        raise FileError(place, f"character number {error.character} may not stand here; remove it") from None
    except RecursionError:
        raise FileError(start, "lists or mappings are nested too deep; write them flat") from None
    raise FileError(start, "the file is empty; write the document")


def _composed(words: str) -> yaml.Node | None:
    """The parser's tree, with the same places and refusals whether libyaml is there or not.

    What libyaml refuses is read again without it, and so is what only it takes or places otherwise (told by
    reading random texts with both). It nests no deeper than a thousand, so no file can exhaust its stack.
    """
    if not ODD.search(words):
        with suppress(yaml.YAMLError, UnicodeError):
            root = yaml.compose(words, Loader=FAST)
            if not _is_doubtful(root):
                return root
    return yaml.compose(words, Loader=yaml.BaseLoader)


def _is_doubtful(root: yaml.Node | None) -> bool:
    """Whether a value is not written at all, or a plain one in brackets has a question mark in it."""
    waiting, seen = [(root, False)], set[int]()
    while waiting:
        raw, is_in_brackets = waiting.pop()
        if raw is None:
            return True
        if isinstance(raw, yaml.ScalarNode):
            if not raw.style and (not raw.value or (is_in_brackets and "?" in raw.value)):
                return True
        elif isinstance(raw, yaml.CollectionNode) and id(raw) not in seen:
            seen.add(id(raw))
            inner = raw.value if isinstance(raw, yaml.SequenceNode) else chain.from_iterable(raw.value)
            waiting += ((each, bool(raw.flow_style)) for each in inner)
    return False


def _place_in(before: str, path: Path) -> Place:
    """The place just after the text `before`."""
    lines = before.split("\n")
    return Place(path, len(lines), len(lines[-1]) + 1)


def _advice(problem: str) -> str:
    """What the parser found, and what usually mends it."""
    if "\\t" in problem:
        return f"{problem}; indent with spaces"
    if "another document" in problem:
        return 'a second document starts here; keep one and remove the "---" line'
    return f"{problem}; check indentation, colons and quotes"


@dataclass(frozen=True, slots=True)
class _Reader:
    """Turns the parser's tree into nodes; a value that an alias repeats is read once."""

    path: Path
    seen: dict[int, Node]

    def node(self, raw: yaml.Node, open_ids: frozenset[int]) -> Node:
        if id(raw) in open_ids:
            raise FileError(self._place(raw), "an anchor refers to itself; write the value out")
        if id(raw) not in self.seen:
            self.seen[id(raw)] = Node(self._value(raw, open_ids | {id(raw)}), self._place(raw))
        return self.seen[id(raw)]

    def _value(self, raw: yaml.Node, open_ids: frozenset[int]) -> str | tuple[Node, ...] | Mapping[str, Node]:
        if isinstance(raw, yaml.ScalarNode):
            return str(raw.value)
        if isinstance(raw, yaml.SequenceNode):
            return tuple(self.node(child, open_ids) for child in raw.value)
        entries: dict[str, Node] = {}
        for key, child in raw.value:
            at = self._place(key)
            if not isinstance(key, yaml.ScalarNode):
                raise FileError(at, "a key must be plain words; quote or rewrite it")
            if key.value in entries:
                raise FileError(at, f'"{key.value}" is written twice; keep one of them')
            entries[key.value] = replace(self.node(child, open_ids), key_place=at)
        return entries

    def _place(self, raw: yaml.Node) -> Place:
        return Place(self.path, raw.start_mark.line + 1, raw.start_mark.column + 1)
