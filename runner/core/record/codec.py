"""Entries as JSON objects and back, exactly: `kind` is the entry's name, gauge values stay decimal text.

The object is flat: where an entry holds a value of PARTS, the fields of that value stand in its place.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields
from decimal import Decimal, InvalidOperation
from typing import Any, Final, TypeVar, get_args, get_type_hints

from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.event import Port
from runner.core.record.entry import Cause, Entry
from runner.language.catalogue import Outcome

Json = str | float | bool | None
"""A field's value in JSON."""

PARTS: Final = (AnswerOrigin, Reception)
"""What is stored field by field inside the entry that holds it."""

Kept = TypeVar("Kept")
"""An entry, or a part of one."""


def to_json(entry: Entry) -> dict[str, Json]:
    """The entry as one flat JSON object, `kind` first and the fields in their order."""
    return {"kind": _kind(type(entry)), **dict(_flat(entry))}


def from_json(data: Mapping[str, object]) -> Entry:
    """The entry that `to_json` wrote; ValueError names the unknown kind, or the field that does not fit."""
    kind = data.get("kind")
    if not isinstance(kind, str) or kind not in KINDS:
        raise ValueError(f"{kind!r} is no kind of entry")
    entry_type, parsers = KINDS[kind]
    given = {name: value for name, value in data.items() if name != "kind"}
    if given.keys() != parsers.keys():
        odd = ", ".join(sorted(given.keys() ^ parsers.keys()))
        raise ValueError(f'entry "{kind}": fields missing or unknown: {odd}')
    values = {name: _parsed(kind, name, parse, given[name]) for name, parse in parsers.items()}
    entry: Entry = assembled(entry_type, values)
    return entry


def stored_fields(kept: type) -> dict[str, object]:
    """The type of each field as it is stored, in the order of storing."""
    hints = get_type_hints(kept)
    flat: dict[str, object] = {}
    for name, part in SHAPES[kept]:
        flat |= {name: hints[name]} if part is None else stored_fields(part)
    return flat


def assembled(kept: type[Kept], values: Mapping[str, Any]) -> Kept:
    """The entry out of the values of its stored fields, which may be more than its own."""
    return kept(*[values[name] if part is None else assembled(part, values) for name, part in SHAPES[kept]])


def _shape(kept: type) -> tuple[tuple[str, type | None], ...]:
    """The fields of an entry or a part, each with its class where it is a part."""
    hints = get_type_hints(kept)
    return tuple(
        (each.name, hints[each.name] if hints[each.name] in PARTS else None) for each in fields(kept)
    )


SHAPES: Final = {kept: _shape(kept) for kept in (*PARTS, *get_args(Entry))}
"""The fields of every entry and every part (`_shape`), found out once."""


def _flat(kept: object) -> Iterator[tuple[str, Json]]:
    for name, part in SHAPES[type(kept)]:
        if part is None:
            yield name, _plain(getattr(kept, name))
        else:
            yield from _flat(getattr(kept, name))


def _plain(value: object) -> Json:
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, str):
        return str(value)
    if value is None or isinstance(value, (bool, int, float)):
        return value
    raise TypeError(f"{value!r} has no place in an entry")


def _parsed(kind: str, name: str, parse: Callable[[object], object], value: object) -> object:
    try:
        return parse(value)
    except (TypeError, ValueError, OverflowError, InvalidOperation) as error:
        raise ValueError(f'entry "{kind}": {name} cannot be {value!r}') from error


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError("no text")
    return value


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise TypeError("no number")
    return float(value)


def _optional_number(value: object) -> float | None:
    return None if value is None else _number(value)


def _flag(value: object) -> bool:
    if not isinstance(value, bool):
        raise TypeError("neither true nor false")
    return value


def _optional_decimal(value: object) -> Decimal | None:
    if value is None:
        return None
    number = Decimal(_text(value))
    if not number.is_finite():
        raise ValueError("no number of a gauge")
    return number


PARSERS: Final[Mapping[object, Callable[[object], object]]] = {
    str: _text,
    float: _number,
    float | None: _optional_number,
    bool: _flag,
    Decimal | None: _optional_decimal,
    Outcome: lambda value: Outcome(_text(value)),
    Cause: lambda value: Cause(_text(value)),
    Port: lambda value: Port(_text(value)),
}
"""How a field of each type is read."""


def _kind(entry_type: type[Entry]) -> str:
    """`AnswerRecorded` is "answer recorded"."""
    name = entry_type.__name__
    return "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in name).strip()


def _parsers(entry_type: type[Entry]) -> Mapping[str, Callable[[object], object]]:
    return {name: PARSERS[hint] for name, hint in stored_fields(entry_type).items()}


KINDS: Final = {_kind(entry_type): (entry_type, _parsers(entry_type)) for entry_type in get_args(Entry)}
"""Every kind of entry with its class and the readers of its fields."""
