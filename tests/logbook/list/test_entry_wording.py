from typing import Any, get_args

import pytest

from runner.core.record.codec import PARSERS, assembled, stored_fields, to_json
from runner.core.record.entry import Cause, Entry
from runner.language.catalogue import Outcome
from runner.logbook.list.entry_wording import entry_words, moment, since, value_words

EXAMPLES: dict[object, Any] = {
    str: "words",
    float: 1.5,
    float | None: None,
    bool: True,
    Outcome: Outcome.SQUAWK,
    Cause: Cause.ROOM_LOUD,
}


@pytest.mark.parametrize("kind", get_args(Entry), ids=lambda kind: kind.__name__)
def test_every_kind_of_entry_has_words(kind: type) -> None:
    """A record is shown in full: no kind of entry is left blank."""
    hints = stored_fields(kind)
    entry: Entry = assembled(kind, {name: EXAMPLES.get(hint) for name, hint in hints.items()})
    item, words = entry_words(entry)
    assert words
    assert item == ("words" if "item" in hints else "")
    assert to_json(entry)["kind"]
    assert set(hints.values()) <= set(PARSERS)


@pytest.mark.parametrize(
    ("seconds", "words"), [(0, "00:00.0"), (59.96, "01:00.0"), (754.5, "12:34.5"), (-1, "00:00.0")]
)
def test_times_count_minutes_and_seconds(seconds: float, words: str) -> None:
    """Rounded to tenths without ever showing sixty seconds."""
    assert since(1_000.0 + seconds, 1_000.0) == words


def test_a_moment_is_utc() -> None:
    """RFC 3339, section 5.8, gives 1990-12-31T23:59:60Z as a leap second; POSIX counts it as the next day."""
    assert moment(662_688_000.0) == "1991-01-01 00:00"


@pytest.mark.parametrize(
    ("answer", "value", "unit", "words"),
    [
        ("21.40", 21.4, "volts", "21.40 volts"),
        ("-5", -5.0, "degrees", "-5 degrees"),
        ("left out", None, "", "left out"),
        ("flag pulled", 30.5, "seconds", "flag pulled, 30.5 seconds"),
    ],
)
def test_a_value_is_shown_as_it_was_said(answer: str, value: float | None, unit: str, words: str) -> None:
    """The digits of a reading are those that were read back."""
    assert value_words(answer, value, unit) == words
