"""PURE: lines of records read many at a time by msgspec, with types that are made from the codec's.

What can be read so and written again to the same bytes is canonical, and every value has its type.
What cannot may still be right; `chain.py` has the last word.
"""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from functools import reduce
from operator import or_
from typing import Annotated, Any, Final, Literal, get_type_hints

import msgspec

from runner.core.record.codec import KINDS, assembled, from_json, stored_fields
from runner.core.record.entry import Entry
from runner.logbook.record.chain import SCHEMA
from runner.logbook.record.header import KIND, RunHeader, is_moment

_LEAST: Final = 1e-4
_MOST: Final = 1e16
"""Between these (the second left out) msgspec writes numbers as `json` does; beyond, exponents differ."""
Number = Annotated[float, msgspec.Meta(ge=_LEAST, lt=_MOST)]
_TYPES: Final[Mapping[object, object]] = {
    float: Number,
    float | None: Number | None,
    Decimal | None: str | None,
}


class OddError(Exception):
    """Not written in the usual way: to be looked at more closely."""


def _type(name: str, kind: str, fields: Sequence[tuple[Any, ...]]) -> type[msgspec.Struct]:
    """A body of this kind; with the header's only, a field that is missing is left out again."""
    return msgspec.defstruct(
        name,
        fields,
        kw_only=True,
        tag_field="kind",
        tag=kind,
        forbid_unknown_fields=True,
        omit_defaults=kind == KIND,
        gc=False,
    )


HEADER: Final = _type(
    "Header",
    KIND,
    [
        (name, hint, msgspec.UNSET) if name == "made_with" else (name, hint)
        for name, hint in get_type_hints(RunHeader).items()
    ],
)


def _bodies() -> Iterator[tuple[type[msgspec.Struct], tuple[str, type[Entry], bool]]]:
    """For each kind of entry a type of bodies, its kind, its class, and whether the codec is not needed."""
    for kind, (entry, _) in KINDS.items():
        hints = stored_fields(entry)
        body = _type(entry.__name__, kind, [(name, _TYPES.get(hint, hint)) for name, hint in hints.items()])
        yield body, (kind, entry, Decimal | None not in hints.values())


_BODIES: Final = dict(_bodies())
ANSWER: Final[Any] = next(body for body, (kind, *_) in _BODIES.items() if kind == "answer recorded")
NO_ANSWER: Final = ANSWER(**dict.fromkeys(ANSWER.__struct_fields__, ""))
"""Stands where an answer is none of these."""
_LINE: Final = msgspec.defstruct(
    "Line",
    [
        ("body", reduce(or_, _BODIES, HEADER)),
        ("chain", str),
        ("previous", str),
        ("schema", Literal[SCHEMA]),
        ("sequence", int),
    ],
    forbid_unknown_fields=True,
    gc=False,
)
_DECODER: Final = msgspec.json.Decoder(_LINE)
_ENCODER: Final = msgspec.json.Encoder(order="sorted")


def read_lines(text: bytes) -> list[Any]:
    """Lines with `body`, `chain`, `previous` and `sequence`; OddError or ValueError when one is odd."""
    lines = _DECODER.decode_lines(text)
    if _ENCODER.encode_lines(lines) != text:
        raise OddError
    return lines


def header_in(body: msgspec.Struct) -> RunHeader:
    """The header that a line holds; OddError when it is none."""
    if type(body) is not HEADER:
        raise OddError
    given = msgspec.structs.asdict(body)
    oat = given["oat_celsius"]
    if not is_moment(given["started_at"]) or not (not oat or _LEAST <= abs(oat) < _MOST):
        raise OddError
    return RunHeader(**given if given["made_with"] is not msgspec.UNSET else given | {"made_with": ""})


def entry_in(body: msgspec.Struct) -> Entry:
    """The entry that a line holds; ValueError when it is none."""
    kind, entry, is_simple = _BODIES[type(body)]
    values = msgspec.structs.asdict(body)
    return assembled(entry, values) if is_simple else from_json(values | {"kind": kind})


def json_row(values: Sequence[str]) -> str:
    """Texts as SQLite's `json_group_array` gives them."""
    return _ENCODER.encode(values).decode()
