"""Entries as JSON objects and back, exactly: `kind` is the entry's name, gauge values stay decimal text."""

from collections.abc import Callable, Mapping
from dataclasses import fields
from decimal import Decimal, InvalidOperation
from typing import Final, get_args, get_type_hints

from runner.checklist.format.check import Outcome
from runner.core.event import Port
from runner.core.record.entry import Cause, Entry

Json = str | float | bool | None
"""A field's value in JSON."""


def to_json(entry: Entry) -> dict[str, Json]:
    """The entry as one flat JSON object, `kind` first and the fields in their order."""
    return {
        "kind": _kind(type(entry)),
        **{name: _plain(getattr(entry, name)) for name in _names(type(entry))},
    }


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
    entry: Entry = entry_type(**values)
    return entry


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


def _names(entry_type: type[Entry]) -> tuple[str, ...]:
    return tuple(field.name for field in fields(entry_type))


def _kind(entry_type: type[Entry]) -> str:
    """`AnswerRecorded` is "answer recorded"."""
    name = entry_type.__name__
    return "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in name).strip()


def _parsers(entry_type: type[Entry]) -> Mapping[str, Callable[[object], object]]:
    hints = get_type_hints(entry_type)
    return {name: PARSERS[hints[name]] for name in _names(entry_type)}


KINDS: Final = {_kind(entry_type): (entry_type, _parsers(entry_type)) for entry_type in get_args(Entry)}
"""Every kind of entry with its class and the readers of its fields."""
