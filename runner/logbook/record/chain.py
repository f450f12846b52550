"""Chains of lines: each line is canonical JSON that carries the hash of the line before, so an edit shows.

A chain is a run's record or an airplane's maintenance records. Line 0 is its header, the lines after it are
its entries. The hash of a line is the SHA-256 of its UTF-8 text, which holds the hash of the line before.
"""

import hashlib
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

import msgspec

from runner.errors import RecordError

SCHEMA: Final = 1
"""The number of this line format; a reader refuses higher ones."""

START: Final = "0" * 64
"""What a header carries in place of the hash of the line before."""

_DECODER: Final = msgspec.json.Decoder()
_ENCODER: Final = msgspec.json.Encoder(order="sorted")
_ODD_NUMBER: Final = re.compile(r"[\[,:]-?(?:0\.0000|[0-9.]+e)")
"""Numbers that msgspec writes otherwise than `json`: very small and very large ones."""

_KEYS: Final = frozenset({"body", "chain", "previous", "schema", "sequence"})


@dataclass(frozen=True, slots=True)
class ChainLine:
    """One line of a chain, as stored, exported and synced."""

    chain: str
    """The chain's id: a run's id, or a maintenance chain's."""
    sequence: int
    """0 for the header, then 1, 2, 3 without gaps."""
    previous: str
    """The hash of the line before, 64 hexadecimal digits."""
    body: Mapping[str, Any]
    """The header or the entry as JSON."""
    text: str
    """The canonical JSON that the hash is taken of."""
    digest: str
    """The hash of this line, 64 hexadecimal digits."""


def canonical(value: object) -> str:
    """JSON in its one form: sorted keys, no spaces, UTF-8 characters as they are, no NaN."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def digest(text: str) -> str:
    """The SHA-256 of a text as 64 hexadecimal digits (FIPS 180-4)."""
    return hashlib.sha256(text.encode()).hexdigest()


def header_line(chain: str, body: Mapping[str, Any]) -> ChainLine:
    """The first line of a new chain."""
    return _line(chain, 0, START, body)


def next_line(before: ChainLine, body: Mapping[str, Any]) -> ChainLine:
    """The line that follows `before`."""
    return _line(before.chain, before.sequence + 1, before.digest, body)


def _line(chain: str, sequence: int, previous: str, body: Mapping[str, Any]) -> ChainLine:
    text = canonical(
        {"body": body, "chain": chain, "previous": previous, "schema": SCHEMA, "sequence": sequence}
    )
    return ChainLine(chain, sequence, previous, body, text, digest(text))


def read_line(text: str) -> ChainLine:
    """Read one stored line; RecordError says what is wrong with it (without a place)."""
    if not isinstance(text, str):
        raise RecordError("not a line of a record: no text")
    known = _read_canonical(text)
    try:
        value = json.loads(text) if known is None else known
    except (ValueError, RecursionError) as error:
        raise RecordError(f"not a line of a record: {error}") from None
    if not isinstance(value, dict) or frozenset(value) != _KEYS:
        raise RecordError(f"not a line of a record: expected the keys {', '.join(sorted(_KEYS))}")
    if value["schema"] != SCHEMA:
        raise RecordError(
            f"line format {value['schema']!r} is unknown here (known: {SCHEMA}); update eyesout"
        )
    types = {"chain": str, "sequence": int, "previous": str, "body": dict}
    wrong = [key for key, kind in types.items() if not isinstance(value[key], kind)]
    if wrong:
        raise RecordError(f'not a line of a record: "{wrong[0]}" has the wrong type')
    if known is None and not _is_canonical(value, text):
        raise RecordError("the line is not in canonical form; it was rewritten by something else")
    return ChainLine(value["chain"], value["sequence"], value["previous"], value["body"], text, digest(text))


def _read_canonical(text: str) -> object | None:
    """What msgspec reads, if it writes the same text again and `json` would; None when that is not sure."""
    try:
        value = _DECODER.decode(text)
        is_same = _ENCODER.encode(value) == text.encode()
    except (ValueError, RecursionError):
        return None
    return value if is_same and not _ODD_NUMBER.search(text) else None


def _is_canonical(value: object, text: str) -> bool:
    try:
        text.encode()
        return canonical(value) == text
    except (ValueError, RecursionError):  # no number of JSON, half a character, or too deep
        return False


def fault_between(before: ChainLine | None, line: ChainLine) -> str | None:
    """Why `line` cannot follow `before` (None: the start of a chain); None when it does."""
    expected = 0 if before is None else before.sequence + 1
    if line.sequence != expected:
        return f"line {expected} is missing (line {line.sequence} follows instead)"
    if before is not None and line.chain != before.chain:
        return f"line {line.sequence} belongs to {line.chain}"
    if line.previous != (START if before is None else before.digest):
        return f"line {line.sequence} does not carry the hash of the line before"
    return None


@dataclass(frozen=True, slots=True)
class ChainRead:
    """What could be read of one chain, from its header on."""

    lines: tuple[ChainLine, ...]
    """The whole part; each line follows from the one before."""
    fault: str | None
    """Why the whole part ends where it does; None when the chain is whole."""


def read_chain(stored: Iterable[tuple[int, str, str]]) -> ChainRead:
    """Read (sequence, text, hash) rows in order, up to the first that does not follow from those before."""
    lines: list[ChainLine] = []
    for fault, line in _checked(stored):
        if line is None:
            return ChainRead(tuple(lines), fault)
        lines.append(line)
    return ChainRead(tuple(lines), None if lines else "the chain has no lines")


def _checked(stored: Iterable[tuple[int, str, str]]) -> Iterator[tuple[str | None, ChainLine | None]]:
    before: ChainLine | None = None
    for sequence, text, kept in stored:
        try:
            line = read_line(text)
        except RecordError as error:
            yield f"line {sequence}: {error}", None
            return
        fault = fault_between(before, line)
        if sequence != line.sequence:
            fault = f"line {line.sequence} is stored as line {sequence}"
        if fault is None and line.digest != kept:
            fault = f"line {sequence} does not match its hash; it was changed after it was written"
        yield fault, None if fault else line
        before = line
