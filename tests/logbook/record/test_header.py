import random
from typing import Any

import pytest

from runner.errors import RecordError
from runner.logbook.record.header import RunHeader, header_body, read_header, run_id

HEADER = RunHeader(
    run="2025-11-25-0920-lark-7k3f",
    started_at=1_764_062_400.0,
    check="lark-reserve",
    airplane="lark",
    registration="X-LARK",
    pilot="A. Invented",
    oat_celsius=None,
    check_sha256="c" * 64,
    airplane_sha256="a" * 64,
    series={"left_flag": "left gyro"},
    is_invented=True,
)


def test_a_header_comes_back_from_its_json() -> None:
    """Every field, the absent temperature as well."""
    assert read_header(header_body(HEADER)) == HEADER


def test_an_older_header_was_made_with_nothing_known() -> None:
    """It has no such field, and stays whole."""
    older = {key: value for key, value in header_body(HEADER).items() if key != "made_with"}
    assert read_header(older).made_with == ""


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"kind": "maintenance"}, "fields missing or unknown: run"),
        ({"odd": 1}, "fields missing or unknown: odd"),
        ({"started_at": "yesterday"}, "started_at has the wrong type"),
        ({"started_at": True}, "started_at has the wrong type"),
        ({"is_invented": 0}, "is_invented has the wrong type"),
        ({"oat_celsius": "4"}, "oat_celsius has the wrong type"),
        ({"made_with": None}, "made_with has the wrong type"),
        ({"series": {"left_flag": 1}}, "series has the wrong type"),
    ],
)
def test_a_header_that_does_not_fit_is_refused(change: dict[str, Any], why: str) -> None:
    """It may come from another computer."""
    with pytest.raises(RecordError, match=why):
        read_header({**header_body(HEADER), **change})


def test_run_ids_sort_by_time_and_rarely_meet() -> None:
    """A thousand runs of one minute have a thousand ids; a later minute sorts later."""
    dice = random.Random(1)
    ids = [run_id(1_764_062_400.0, "lark", dice.choice) for _ in range(1000)]
    assert len(set(ids)) >= 999
    assert max(ids) < run_id(1_764_062_460.0, "ant")
    assert ids[0].startswith("2025-11-25-0920-lark-")


def test_an_odd_file_name_gives_an_id_that_can_be_typed() -> None:
    """Letters, digits, dot, dash and underline; anything else becomes a dash."""
    assert run_id(1_764_062_400.0, "my lark/../x+y", lambda letters: letters[0]) == (
        "2025-11-25-0920-my-lark-..-x-y-2222"
    )
