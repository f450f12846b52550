import json
from decimal import Decimal
from functools import partial
from typing import Any, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.event import Port
from runner.core.record.codec import KINDS, assembled, from_json, stored_fields, to_json
from runner.core.record.entry import AnswerRecorded, Cause, ConfirmationAsked, Entry, Held, InputChanged
from runner.language.catalogue import Outcome

NUMBERS = st.floats(allow_nan=False, allow_infinity=False)

VALUES: dict[object, st.SearchStrategy[Any]] = {
    str: st.text(),
    float: NUMBERS,
    float | None: st.none() | NUMBERS,
    bool: st.booleans(),
    Decimal | None: st.none() | st.decimals(allow_nan=False, allow_infinity=False),
    Outcome: st.sampled_from(Outcome),
    Cause: st.sampled_from(Cause),
    Port: st.sampled_from(Port),
}

ENTRIES: st.SearchStrategy[Entry] = st.one_of(
    [
        st.fixed_dictionaries({name: VALUES[hint] for name, hint in stored_fields(entry_type).items()}).map(
            partial(assembled, entry_type)
        )
        for entry_type in get_args(Entry)
    ]
)


@given(ENTRIES)
def test_every_entry_comes_back_from_json_exactly(entry: Entry) -> None:
    """Through text, as the logbook stores it; outcomes and decimals keep their types and their digits."""
    again = from_json(json.loads(json.dumps(to_json(entry))))
    assert again == entry
    assert repr(again) == repr(entry)


def test_an_entry_reads_as_plain_json() -> None:
    """Kind first, then the fields in their order; a value keeps its trailing zero."""
    origin = AnswerOrigin(12.0, None, is_hasty=False, reception=Reception("x", 1, "keys"))
    asked = ConfirmationAsked(12.5, "volts", Decimal("31.0"), origin)
    assert json.dumps(to_json(asked)) == (
        '{"kind": "confirmation asked", "at": 12.5, "item": "volts", "number": "31.0", "onset_at": 12.0, '
        '"response_seconds": null, "is_hasty": false, "text": "x", "confidence": 1, "channel": "keys"}'
    )


def test_every_entry_has_a_kind() -> None:
    """Named as the class is."""
    assert len(KINDS) == len(get_args(Entry))
    assert to_json(Held(1.0)) == {"kind": "held", "at": 1.0}
    assert to_json(InputChanged(1.0, "keys", Cause.MIC_LOST))["cause"] == "microphone lost"
    assert KINDS["answer recorded"][0] is AnswerRecorded


@pytest.mark.parametrize("kind", ["landed", "", None, 3, ["held"]])
def test_an_unknown_kind_is_refused(kind: object) -> None:
    """ValueError names it."""
    with pytest.raises(ValueError, match="is no kind of entry"):
        from_json({"kind": kind, "at": 1.0})


@pytest.mark.parametrize(
    ("data", "message"),
    [
        ({"kind": "held"}, "missing or unknown: at"),
        ({"kind": "held", "at": 1.0, "mood": "good"}, "missing or unknown: mood"),
        ({"kind": "held", "at": "noon"}, "at cannot be 'noon'"),
        ({"kind": "held", "at": True}, "at cannot be True"),
        ({"kind": "held", "at": 10**400}, "at cannot be 1"),
        ({"kind": "reopened", "at": 1.0, "item": 7}, "item cannot be 7"),
        ({"kind": "input changed", "at": 1.0, "channel": "keys", "cause": "rain"}, "cause cannot be 'rain'"),
    ],
)
def test_a_field_that_does_not_fit_is_refused(data: dict[str, object], message: str) -> None:
    """ValueError names the field and what it held."""
    with pytest.raises(ValueError, match=message):
        from_json(data)


@pytest.mark.parametrize(
    ("field", "value"), [("number", "NaN"), ("number", "many"), ("number", 31.0), ("is_hasty", "no")]
)
def test_a_number_or_flag_that_does_not_fit_is_refused(field: str, value: object) -> None:
    """A gauge's number is decimal text, a flag is true or false."""
    origin = AnswerOrigin(1.0, None, is_hasty=False, reception=Reception("", 1.0, ""))
    asked = ConfirmationAsked(1.0, "volts", Decimal(31), origin)
    with pytest.raises(ValueError, match=f"{field} cannot be"):
        from_json({**to_json(asked), field: value})


def test_what_no_entry_holds_is_not_written() -> None:
    """A programming error, told at once."""
    with pytest.raises(TypeError, match="no place in an entry"):
        to_json(Held([1.0]))  # type: ignore[arg-type]
