"""Each kind of tampering by someone with the file in hand, and what the links between records show of it."""

import shutil
import sqlite3
from pathlib import Path

import pytest

from runner.logbook.proof.audit import Audit, audit_folder
from runner.logbook.proof.link import KIND as LINKS
from runner.logbook.record.chain import canonical, digest
from runner.logbook.record.database import transaction
from runner.logbook.record.record import all_chains, read_whole
from runner.logbook.record.run_store import FILE, Logbook
from runner.logbook.squawk.maintenance_record import Serviced, file_record
from tests.logbook.sample import STARTED_AT, new_run, whole_run, write_run

DAY = 86_400


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Three runs of one logbook, the last one left open, and work done on the airplane."""
    write_run(tmp_path)
    write_run(tmp_path, started_at=STARTED_AT + DAY)
    with Logbook.open(tmp_path) as logbook:
        file_record(logbook, "X-LARK", Serviced(STARTED_AT + 300, "C. Invented", "battery replaced"))
        with new_run(logbook, started_at=STARTED_AT + 2 * DAY) as handle:
            for entry in list(whole_run(STARTED_AT + 2 * DAY))[:4]:
                handle.append(entry)
    assert audit_folder(tmp_path).is_whole
    return tmp_path


def _change(folder: Path, *statements: str) -> Audit:
    connection = sqlite3.connect(folder / FILE, isolation_level=None)
    with transaction(connection):
        for statement in statements:
            connection.execute(statement)
    connection.close()
    return audit_folder(folder)


def _faults(found: Audit) -> str:
    assert not found.is_whole
    return "\n".join(
        [*found.faults, *(f"{one.chain}: {fault}" for one in found.verdicts for fault in one.faults)]
    )


FIRST = "(SELECT number FROM chain WHERE kind = 'run' ORDER BY number LIMIT 1)"


def _gone(of: str) -> list[str]:
    return [
        f"DELETE FROM answer WHERE run = {of}",
        f"DELETE FROM run WHERE number = {of}",
        f"DELETE FROM line WHERE chain = {of}",
        f"DELETE FROM chain WHERE number = {of}",
    ]


def test_a_run_that_vanished_with_all_its_rows_is_missed(folder: Path) -> None:
    """Nothing of it is left in any table but the links."""
    found = _change(folder, *_gone(FIRST))
    assert "the record is gone; link" in _faults(found)
    assert "had 13 lines" in _faults(found)


def test_the_last_run_is_missed_as_well_while_its_link_is_there(folder: Path) -> None:
    """It was begun, so a link names it."""
    last = "(SELECT max(number) FROM chain WHERE kind = 'run')"
    assert "the record is gone" in _faults(_change(folder, *_gone(last)))


def test_a_changed_kind_is_named(folder: Path) -> None:
    """A run that is called something else is in no list; verify says so."""
    found = _faults(_change(folder, f"UPDATE chain SET kind = 'other' WHERE number = {FIRST}"))
    assert "is kept as 'other', which is no kind of record" in found
    assert "was linked as 'run'" in found


def test_a_changed_id_is_named(folder: Path) -> None:
    """The lines still say whose they are."""
    found = _faults(
        _change(
            folder,
            f"UPDATE run SET id = 'other' WHERE number = {FIRST}",
            f"UPDATE chain SET id = 'other' WHERE number = {FIRST}",
        )
    )
    assert "the record was renamed" in found
    assert "the record is gone" in found
    assert "no link names it" in found


def _cut(length: int) -> list[str]:
    """Cut a run's tail with everything in step: length, last hash, lists."""
    return [
        f"DELETE FROM line WHERE chain = {FIRST} AND sequence >= {length}",
        f"UPDATE chain SET length = {length} WHERE number = {FIRST}",
        "UPDATE chain SET digest = (SELECT digest FROM line WHERE chain = number AND sequence = length - 1)",
        f"UPDATE run SET state = 'open', ended_at = NULL WHERE number = {FIRST}",
    ]


def test_a_cut_tail_is_named_although_everything_else_was_brought_into_step(folder: Path) -> None:
    """Only the completion is gone: the chain alone is whole, the lists agree with it."""
    found = _change(folder, *_cut(12))
    assert "its end was cut" in _faults(found)
    assert "says that it had 13 lines" in _faults(found)


def _rewrite(folder: Path, run: str, old: str, new: str) -> None:
    """Change an answer and compute all hashes anew, as someone with this program could."""
    with Logbook.open(folder) as logbook, logbook.writing() as connection:
        chain = next(one for one in all_chains(logbook) if one.id == run)
        before = ""
        for line in read_whole(logbook, chain).lines:
            text = line.text.replace(old, new)
            if before:
                text = text.replace(line.previous, before)
            before = digest(text)
            connection.execute(
                "UPDATE line SET text = ?, digest = ? WHERE chain = ? AND sequence = ?",
                (text, before, chain.number, line.sequence),
            )
        connection.execute("UPDATE chain SET digest = ? WHERE number = ?", (before, chain.number))


def test_a_record_that_was_rewritten_with_all_its_hashes_is_named(folder: Path) -> None:
    """The squawk became a pass in the record, in its hashes and in the lists."""
    with Logbook.open(folder) as logbook:
        run = logbook.rows("SELECT id FROM chain WHERE kind = 'run' ORDER BY number LIMIT 1")[0][0]
    _rewrite(folder, run, '"outcome":"squawk"', '"outcome":"pass"')
    found = _faults(
        _change(
            folder,
            f"UPDATE answer SET outcome = 'pass' WHERE run = {FIRST} AND outcome = 'squawk'",
            f"UPDATE run SET squawks = 0 WHERE number = {FIRST}",
        )
    )
    assert f"{run}: it was rewritten: its line 12 is not the one of link" in found
    assert "the summary" not in found


def test_a_run_that_was_put_in_beside_the_program_is_named(folder: Path, tmp_path: Path) -> None:
    """Copied out of another logbook, statement by statement; no link names it."""
    other = tmp_path / "other"
    write_run(other, started_at=STARTED_AT + 9 * DAY)
    found = _faults(_change(folder, *_copied(other, 99)))
    assert "no link names it" in found


def _copied(other: Path, number: int) -> list[str]:
    connection = sqlite3.connect(other / FILE)
    quoted = ", ".join
    statements = []
    for table, key in (("chain", "number"), ("line", "chain"), ("run", "number"), ("answer", "run")):
        names = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
        old = connection.execute("SELECT number FROM chain WHERE kind = 'run'").fetchone()[0]
        values = quoted(str(number) if name == key else f"quote({name})" for name in names)
        for row in connection.execute(f"SELECT {values} FROM {table} WHERE {key} = {old}"):
            statements.append(f"INSERT INTO {table} VALUES ({quoted(map(str, row))})")  # noqa: PERF401 - as above
    connection.close()
    return statements


def test_a_broken_link_is_named(folder: Path) -> None:
    """The links are a chain like the others."""
    found = _change(folder, 'DELETE FROM line WHERE text LIKE \'%"cause":"filed"%\'')
    assert "the links are broken" in _faults(found)


def test_the_last_runs_with_their_links_dropped_do_not_show(folder: Path, tmp_path: Path) -> None:
    """What no chain can show without a witness outside: the file as it was a day ago."""
    early = tmp_path / "early"
    early.mkdir()
    shutil.copy(folder / FILE, early / FILE)
    write_run(folder, started_at=STARTED_AT + 5 * DAY)
    assert audit_folder(early).is_whole


def test_an_older_logbook_is_linked_from_its_next_run_on(tmp_path: Path) -> None:
    """It says how many records are older; a vanished one of them shows, without its name."""
    shutil.copytree(Path(__file__).parents[1] / "golden", tmp_path / "old")
    folder = tmp_path / "old"
    assert "are not linked to each other" in audit_folder(folder).remarks[0]
    with Logbook.open(folder) as logbook:
        assert logbook.rows("PRAGMA user_version") == [(1,)]
    write_run(folder, started_at=STARTED_AT + 9 * DAY)
    found = audit_folder(folder)
    assert found.is_whole
    assert found.remarks[0].startswith("8 records are older than the links")
    with Logbook.open(folder) as logbook:
        assert logbook.rows("PRAGMA user_version") == [(2,)]
        assert sum(chain.kind == LINKS for chain in all_chains(logbook)) == 1
    assert "from before the links began" in _faults(_change(folder, *_gone(FIRST)))


def test_the_links_can_be_checked_with_json_and_sha_256_alone(folder: Path) -> None:
    """No reader of this package: each link carries the hash of the one before (FIPS 180-4, RFC 8259)."""
    import hashlib  # noqa: PLC0415 - the reference of this test
    import json  # noqa: PLC0415

    connection = sqlite3.connect(folder / FILE)
    before = "0" * 64
    rows = connection.execute(
        "SELECT l.text FROM line l JOIN chain c ON c.number = l.chain AND c.kind = 'links' ORDER BY sequence"
    ).fetchall()
    connection.close()
    for (text,) in rows:
        assert json.loads(text)["previous"] == before
        before = hashlib.sha256(text.encode()).hexdigest()
    assert [json.loads(text)["body"].get("cause") for (text,) in rows] == [
        *(None, "begun", "ended", "begun", "ended", "filed", "begun", "left")
    ]
    assert canonical(json.loads(rows[-1][0])) == rows[-1][0]
