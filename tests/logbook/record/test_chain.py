import hashlib
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.errors import RecordError
from runner.logbook.record.chain import (
    START,
    ChainLine,
    canonical,
    digest,
    header_line,
    next_line,
    read_chain,
    read_line,
)

JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53), 2**53)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)


def _chain(length: int) -> list[ChainLine]:
    lines = [header_line("run-1", {"kind": "run"})]
    while len(lines) < length:
        lines.append(next_line(lines[-1], {"at": len(lines) + 0.25}))
    return lines


def _rows(lines: list[ChainLine]) -> list[tuple[int, str, str]]:
    return [(line.sequence, line.text, line.digest) for line in lines]


def test_digest_is_sha_256() -> None:
    """FIPS 180-4's example: the hash of `abc` (NIST example values, SHA256.pdf; from memory)."""
    assert digest("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_a_line_can_be_checked_with_any_json_and_sha_256_tool() -> None:
    """The hash is that of the text, and the text holds the hash of the line before."""
    first, second = _chain(2)
    assert json.loads(first.text)["previous"] == START
    assert json.loads(second.text)["previous"] == hashlib.sha256(first.text.encode()).hexdigest()


@given(st.dictionaries(st.text(), JSON, max_size=4))
def test_every_body_comes_back_from_its_line(body: dict[str, object]) -> None:
    """What is read from a line is what was put into it, and gives the same text again."""
    line = header_line("run-1", body)
    assert read_line(line.text) == line
    assert canonical(json.loads(line.text)) == line.text


def test_a_number_that_json_cannot_write_is_refused() -> None:
    """NaN has no JSON form."""
    with pytest.raises(ValueError, match="not JSON compliant"):
        header_line("run-1", {"at": float("nan")})


def test_a_whole_chain_has_no_fault() -> None:
    """All lines are read and nothing is reported."""
    lines = _chain(4)
    reading = read_chain(_rows(lines))
    assert reading.fault is None
    assert list(reading.lines) == lines


@given(st.integers(0, 3), st.data())
def test_a_changed_character_is_found_where_it_is(which: int, data: st.DataObject) -> None:
    """Whatever one character of one line becomes, the lines before it are read and it is not."""
    lines = _chain(4)
    rows = _rows(lines)
    sequence, text, kept = rows[which]
    at = data.draw(st.integers(0, len(text) - 1))
    letter = chr((ord(text[at]) + data.draw(st.integers(1, 127))) % 128)
    rows[which] = (sequence, text[:at] + letter + text[at + 1 :], kept)
    reading = read_chain(rows)
    assert reading.fault is not None
    assert f"line {which}" in reading.fault
    assert list(reading.lines) == lines[:which]


@pytest.mark.parametrize(
    ("order", "fault"),
    [
        ([0, 2, 3], "line 1 is missing (line 2 follows instead)"),
        ([1, 2], "line 0 is missing (line 1 follows instead)"),
        ([0, 1, 1], "line 2 is missing (line 1 follows instead)"),
        ([], "the chain has no lines"),
    ],
)
def test_a_missing_or_doubled_line_is_named(order: list[int], fault: str) -> None:
    """The sequence has no gaps."""
    rows = _rows(_chain(4))
    assert read_chain([rows[index] for index in order]).fault == fault


def test_a_line_forged_with_its_own_hash_breaks_the_next() -> None:
    """Rewriting a line and its hash shows at the line after it."""
    lines = _chain(4)
    forged = next_line(lines[0], {"at": 99.0})
    reading = read_chain(_rows([lines[0], forged, *lines[2:]]))
    assert reading.fault == "line 2 does not carry the hash of the line before"


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "not a line of a record"),
        ("{", "not a line of a record"),
        ("[1]", "expected the keys body, chain, previous, schema, sequence"),
        ('{"body":{},"chain":"r","previous":"","schema":2,"sequence":0}', "line format 2 is unknown here"),
        ('{"body":[],"chain":"r","previous":"","schema":1,"sequence":0}', '"body" has the wrong type'),
        ('{"body":{}, "chain":"r","previous":"","schema":1,"sequence":0}', "not in canonical form"),
    ],
)
def test_what_is_no_line_is_refused_with_the_reason(text: str, why: str) -> None:
    """Each kind of bad text has its own message."""
    with pytest.raises(RecordError, match=why):
        read_line(text)


def test_the_one_form_keeps_letters_as_they_are() -> None:
    """Sorted keys, no spaces, UTF-8 unescaped: another form would have another hash."""
    assert canonical({"b": "é", "a": [1, None]}) == '{"a":[1,null],"b":"é"}'
