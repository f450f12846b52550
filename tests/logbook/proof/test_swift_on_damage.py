"""Thousands of damaged and forged logbooks: what the quick pass calls proven, the closer look calls whole."""

import json
import random
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from runner.errors import RecordError
from runner.logbook.proof.chain_verdict import look_closely
from runner.logbook.proof.swift import Swift
from runner.logbook.record import chain as chain_module
from runner.logbook.record.chain import canonical, digest, read_line
from runner.logbook.record.record import Chain
from runner.logbook.record.run_store import FILE
from tests.logbook.proof.test_swift import CELLS, odd_logbook

SEEDS = range(25)
FOLDS = 120
"""Damages a seed: three thousand in all."""


@dataclass
class Memory:
    """A logbook in memory. It is a Shelf."""

    connection: sqlite3.Connection
    place: str = "memory"
    folder: Path = field(default_factory=Path)

    def rows(self, query: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
        """As a logbook that is held still gives them: text that is no UTF-8 with replacements."""
        self.connection.text_factory = lambda raw: raw.decode(errors="replace")
        return self.connection.execute(query, parameters).fetchall()


@contextmanager
def _loosened(path: Path) -> Iterator[bytes]:
    """The file with no constraint and no type on any column, as who rewrites it could make it."""
    connection = sqlite3.connect(path)
    with connection:
        connection.execute("PRAGMA writable_schema = ON")
        for word in (" NOT NULL", " INTEGER", " TEXT", " REAL"):
            connection.execute(
                "UPDATE sqlite_master SET sql = replace(sql, ?, '') WHERE name IN ('line', 'answer')", (word,)
            )
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.execute("PRAGMA journal_mode = DELETE")
    connection.close()
    yield path.read_bytes()


ODD_CELLS = [
    *("NULL", "7", "'x'", "1e300", "x'00ff'", "''", "{0} || ' '", "CAST({0} AS BLOB)", "CAST({0} AS TEXT)"),
    *("{0} || char(31)", "{0} || char(10)", "replace({0}, '2', '3')", "{0} + 1e-7", "-{0}", "upper({0})"),
    "substr({0}, 2)",
]


def _change_cell(dice: random.Random, connection: sqlite3.Connection) -> None:
    table, column = dice.choice([*CELLS, ("answer", "is_hasty"), ("answer", "response_seconds")])
    changed = dice.choice(ODD_CELLS).format(column)
    share = dice.choice([1, 3, 10])
    connection.execute(f"UPDATE OR IGNORE {table} SET {column} = {changed} WHERE abs(random()) % {share} = 0")


def _move_rows(dice: random.Random, connection: sqlite3.Connection) -> None:
    chain, sequence = dice.choice(connection.execute("SELECT chain, sequence FROM line").fetchall())
    where = (chain, sequence)
    at = "chain = ? AND sequence = ?"
    match dice.randrange(5):
        case 0:
            connection.execute(f"DELETE FROM line WHERE {at}", where)
        case 1:
            connection.execute(f"UPDATE OR IGNORE line SET sequence = sequence + 100 WHERE {at}", where)
        case 2:
            connection.execute(
                f"UPDATE OR IGNORE line SET chain = chain + 1, sequence = 50 WHERE {at}", where
            )
        case 3:
            connection.execute("DELETE FROM answer WHERE abs(random()) % 6 = 0")
        case _:
            _smuggle(connection, *where)


def _smuggle(connection: sqlite3.Connection, chain: int, sequence: int) -> None:
    """Two lines in one row and none in the other: put together, they read as before."""
    pair = connection.execute(
        "SELECT text FROM line WHERE chain = ? AND sequence IN (?, ?)", (chain, sequence, sequence + 1)
    ).fetchall()
    texts = [row[0] for row in pair]
    if len(texts) == 2 and all(isinstance(text, str) for text in texts):
        connection.execute(
            "UPDATE line SET text = iif(sequence = ?, NULL, ?) WHERE chain = ? AND sequence IN (?, ?)",
            (sequence, "\n".join(texts), chain, sequence, sequence + 1),
        )


def _number(dice: random.Random) -> str:
    value = dice.choice(
        [0.00001, 0.0, -0.0, 1e16, 1e22, 5.0, dice.random(), dice.uniform(1e9, 2e9), 1e-7, 123456]
    )
    forms = [
        repr(value),
        f"{value:.20f}",
        f"{value:e}",
        f"{value:.1f}",
        f"{value}0",
        f"{value:g}",
        f"0{value}",
    ]
    return dice.choice([*forms, "1E5", "null", "true", "NaN", "1e999", "9" * 400 + ".5", "-0", "[1]", '"1"'])


SWAPS = (
    (":", [": "]),
    ('"kind"', ['"kind":"held","kind"']),
    ('"at":', ['"at":5,"at":']),
    ('"item":"', ['"item":"\\u0041', '"item":"\\/', '"item":"\x01', '"item":"\\"', '"item":"\\u001F']),
    ('"item":"', ['"item":"\x7f', '"item":"ä\u2028', '"item":"\U0001f600', '"item":"\\n', '"item":"\\u001f']),
    ('"outcome":"pass"', ['"outcome":"safe"', '"outcome":"squawk"', '"outcome":"PASS"', '"outcome":""']),
    ('"is_hasty":false', ['"is_hasty":true', '"is_hasty":0', '"is_hasty":null']),
    ('"unit":""', ['"unit":null', '"unit":1', '"unit":"",', '"unit":"volts"']),
    ('"schema":1', ['"schema":2', '"schema":1.0', '"schema":true']),
    ('"body":{', ['"body":{"added":1,']),
    ("}", [" }", "}\n", "", "}}"]),
)
"""What stands in a line, and what may be put in its place."""


def _rewritten(dice: random.Random, text: str) -> str:
    """The line as another program, or another hand, might have written it."""
    match dice.randrange(4):
        case 0:
            return _with_number(dice, text)
        case 1:
            return _with_letter(dice, text)
        case 2:
            return json.dumps(dict(reversed(json.loads(text).items())), separators=(",", ":"))
        case _:
            old, news = dice.choice(SWAPS)
            return text.replace(old, dice.choice(news), 1)


def _with_number(dice: random.Random, text: str) -> str:
    name = dice.choice(
        ['"at":', '"onset_at":', '"confidence":', '"response_seconds":', '"oat_celsius":', '"seconds":']
    )
    head, found, tail = text.partition(name)
    return text if not found else head + name + _number(dice) + tail[tail.find(",") :]


def _with_letter(dice: random.Random, text: str) -> str:
    place = dice.randrange(len(text))
    return text[:place] + dice.choice('"\\{}[]:,x0 \n\t\ufffdé') + text[place + dice.randrange(2) :]


def _forge(dice: random.Random, connection: sqlite3.Connection) -> None:
    """Rewrite a line, and every hash after it, as who knows the format would."""
    chain, place = dice.choice(
        connection.execute("SELECT chain, sequence FROM line WHERE chain > 1").fetchall()
    )
    stored = connection.execute(
        "SELECT sequence, text, digest FROM line WHERE chain = ? AND sequence >= ? ORDER BY sequence",
        (chain, place),
    ).fetchall()
    before = after = ""
    for sequence, text, kept in stored:
        new = text.replace(before, after) if before else _rewritten(dice, text)
        before, after = kept, digest(new)
        connection.execute(
            "UPDATE line SET text = ?, digest = ? WHERE chain = ? AND sequence = ?",
            (new, after, chain, sequence),
        )
    connection.execute("UPDATE chain SET digest = ? WHERE number = ?", (after, chain))


def _both(connection: sqlite3.Connection) -> tuple[set[int], set[int]]:
    """(runs that the quick pass did not prove, runs in which the closer look finds a fault)."""
    shelf = Memory(connection)
    listed = [
        Chain(*row)
        for row in shelf.rows("SELECT number, id, kind, length, digest FROM chain WHERE kind = 'run'")
    ]
    faulty = {chain.number for chain in listed if look_closely(shelf, chain).faults}
    connection.text_factory = str
    return set(Swift(connection).doubtful(0, 2**40)), faulty


@pytest.mark.parametrize("seed", SEEDS)
def test_no_damage_is_proven(tmp_path: Path, seed: int) -> None:
    """Cells changed, rows moved, lines forged with all their hashes: only what is whole is proven."""
    dice = random.Random(seed)
    odd_logbook(tmp_path, dice)
    with _loosened(tmp_path / FILE) as original:
        pass
    found = 0
    for _ in range(FOLDS):
        connection = sqlite3.connect(":memory:")
        connection.deserialize(original)
        with suppress(sqlite3.IntegrityError, UnicodeEncodeError):
            dice.choice([_change_cell, _move_rows, _forge, _forge])(dice, connection)
        doubtful, faulty = _both(connection)
        assert faulty <= doubtful
        found += bool(faulty)
        connection.close()
    assert found > FOLDS / 3


@pytest.mark.parametrize("seed", SEEDS)
def test_a_line_is_read_as_by_the_standard_library(monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
    """The quick reader of JSON against `json` alone, on damaged lines: the same value or refusal."""
    dice = random.Random(seed)
    body = {
        "kind": "answer recorded",
        "at": 1.5,
        "item": "volts",
        "outcome": "pass",
        "unit": "",
        "is_hasty": False,
    }
    line = {"body": body, "chain": "a", "previous": "0" * 64, "schema": 1, "sequence": 1}
    texts = []
    for _ in range(FOLDS):
        body["at"] = dice.choice([5, 1e-5, 1e16, -0.0, dice.uniform(0, 2e9), dice.uniform(0, 1e-3), 2**70])
        body["item"] = "".join(
            chr(dice.choice([dice.randrange(128), dice.randrange(0xD800)])) for _ in range(5)
        )
        text = canonical(line)
        texts += [text, _rewritten(dice, text), _with_letter(dice, text)]
    quick = [_read(text) for text in texts]
    monkeypatch.setattr(chain_module, "_read_canonical", dict[str, object]().get)
    assert quick == [_read(text) for text in texts]
    assert sum(isinstance(each, str) for each in quick) > FOLDS / 2


def _read(text: str) -> object:
    try:
        return read_line(text)
    except RecordError as error:
        return str(error)
