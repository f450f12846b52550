"""Whatever stands in a row, verify says so and never ends on it."""

import random
import sqlite3
from contextlib import suppress
from pathlib import Path

import pytest

from runner.core.record.entry import NoteRecorded
from runner.logbook.proof.audit import audit_folder
from runner.logbook.record.clip_file import keep_clip
from runner.logbook.record.run_store import FILE, Logbook
from runner.logbook.squawk.maintenance_record import Noted, Serviced, file_record
from tests.logbook.sample import STARTED_AT, new_run, write_run

COLUMNS = {
    "setting": ("name", "value"),
    "snapshot": ("sha256", "text"),
    "chain": ("number", "id", "kind", "length", "digest"),
    "line": ("chain", "sequence", "text", "digest"),
    "run": (
        *("number", "id", "started_at", "ended_at", "state", "check_name", "airplane", "registration"),
        *("pilot", "oat_celsius", "cautions", "squawks", "is_invented"),
    ),
    "answer": (
        *("run", "item", "series", "registration", "kind", "answer", "value", "unit", "outcome", "at"),
        *("response_seconds", "is_hasty"),
    ),
}
DEEP = '{"body":' * 5000
VALUES = [
    None,
    b"\xff\xfe\x00\x80",
    b"",
    "",
    "\x00\x1b[31m",
    "\ud7ff\u202e",
    -1,
    2**62,
    1.5,
    float("inf"),
    DEEP,
    "9" * 6000,
    '{"body":{"kind":"linked","at":NaN},"chain":"x","previous":"","schema":1,"sequence":1}',
    '{"body":{},"chain":"\\ud800","previous":"","schema":1,"sequence":0}',
]


def _filled(folder: Path) -> None:
    run = write_run(folder)
    with Logbook.open(folder) as logbook:
        with new_run(logbook, started_at=STARTED_AT + 60) as handle:
            handle.append(NoteRecorded(STARTED_AT + 61, "", keep_clip(logbook.clips, b"RIFF"), 1.0))
        file_record(logbook, run, Noted(STARTED_AT + 200, "A. Invented", "volts", "listen"))
        file_record(logbook, "X-LARK", Serviced(STARTED_AT + 300, "C. Invented", "battery replaced"))
    _loosen(folder)


def _loosen(folder: Path) -> None:
    """Take the constraints out of the tables, as who rewrites the file could: any cell may be NULL."""
    connection = sqlite3.connect(folder / FILE)
    with connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(
            "UPDATE sqlite_master SET sql = replace(sql, ' NOT NULL', '') WHERE type = 'table'"
        )
    connection.close()


@pytest.mark.parametrize(
    ("table", "column"), [(table, column) for table, columns in COLUMNS.items() for column in columns]
)
def test_any_value_in_any_column_is_told_and_survived(tmp_path: Path, table: str, column: str) -> None:
    """One row each time; a change of what verify reads is a fault, and the verdicts are still there."""
    _filled(tmp_path)
    original = (tmp_path / FILE).read_bytes()
    dice = random.Random(f"{table}.{column}")
    for value in [*VALUES, dice.randbytes(40), dice.randbytes(400)]:
        (tmp_path / FILE).write_bytes(original)
        connection = sqlite3.connect(tmp_path / FILE)
        connection.text_factory = bytes
        count = connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0]
        key = "rowid" if table in ("snapshot", "chain", "run") else None
        where = f"{key} = (SELECT {key} FROM {table} LIMIT 1 OFFSET {dice.randrange(count)})" if key else "1"
        changed = 0
        with suppress(sqlite3.IntegrityError), connection:  # a row's own number takes numbers only
            changed = connection.execute(
                f"UPDATE OR IGNORE {table} SET {column} = ? WHERE {where}",
                (value,),
            ).rowcount
        connection.close()
        found = audit_folder(tmp_path)
        if table != "setting" and changed > 0:
            assert not found.is_whole or _is_same(original, tmp_path / FILE), (value, found)


def _is_same(original: bytes, path: Path) -> bool:
    """Whether the tables still hold the same values: NULL into NULL, or a change converted back."""
    other = path.with_name("original.sqlite")
    other.write_bytes(original)
    one, two = sqlite3.connect(path), sqlite3.connect(other)
    try:
        return all(
            one.execute(f"SELECT * FROM {table}").fetchall()
            == two.execute(f"SELECT * FROM {table}").fetchall()
            for table in COLUMNS
        )
    finally:
        one.close()
        two.close()


@pytest.mark.parametrize("seed", range(12))
def test_random_bytes_anywhere_in_the_file_are_survived(tmp_path: Path, seed: int) -> None:
    """Pages, headers, cells: something is told, nothing is raised."""
    _filled(tmp_path)
    dice = random.Random(seed)
    content = bytearray((tmp_path / FILE).read_bytes())
    for _ in range(dice.choice([1, 20, 2000])):
        content[dice.randrange(100, len(content))] = dice.randrange(256)
    (tmp_path / FILE).write_bytes(bytes(content))
    audit_folder(tmp_path)
