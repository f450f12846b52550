import sqlite3
import threading
from pathlib import Path

from runner.core.record.entry import Held
from runner.errors import RecordError
from runner.logbook.proof.audit import audit_folder
from runner.logbook.record.run_store import FILE, Logbook
from tests.logbook.sample import STARTED_AT, new_run, write_run


def test_a_full_disk_is_one_line_and_loses_nothing(tmp_path: Path) -> None:
    """SQLite is given no more pages: the entry is refused, those before stand, and it goes on with space."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        pages = logbook.rows("PRAGMA page_count")[0][0]
        logbook.rows(f"PRAGMA max_page_count = {pages + 2}")
        written = 0
        for entry in (Held(STARTED_AT + count) for count in range(1000)):
            try:
                handle.append(entry)
            except RecordError as error:
                refused = str(error)
                break
            written += 1
        assert "full; free some space" in refused
        assert 0 < written < 1000
        assert len(logbook.entries(handle.run)) == written
        logbook.rows("PRAGMA max_page_count = 100000")
        handle.append(Held(STARTED_AT + written))
        assert [entry.at for entry in logbook.entries(handle.run)] == [
            STARTED_AT + count for count in range(written + 1)
        ]
    assert audit_folder(tmp_path).is_whole


def test_a_writer_that_holds_on_makes_others_wait_and_not_fail(tmp_path: Path) -> None:
    """Another connection has the write lock when the append begins; it comes through once that lets go."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        other = sqlite3.connect(tmp_path / FILE, isolation_level=None, check_same_thread=False)
        other.execute("BEGIN IMMEDIATE")
        begun = threading.Event()

        def append() -> None:
            begun.set()
            handle.append(Held(STARTED_AT))

        appending = threading.Thread(target=append)
        appending.start()
        begun.wait()
        other.execute("COMMIT")
        appending.join()
        other.close()
        assert len(logbook.entries(handle.run)) == 1


def test_several_threads_of_one_process_share_a_logbook(tmp_path: Path) -> None:
    """Each writes a run of its own while the others do."""
    with Logbook.open(tmp_path) as logbook:
        handles = [new_run(logbook, started_at=STARTED_AT + 60 * number) for number in range(4)]
        threads = [
            threading.Thread(target=lambda h=handle: [h.append(Held(STARTED_AT + n)) for n in range(20)])
            for handle in handles
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert [len(logbook.entries(handle.run)) for handle in handles] == [20] * 4
        for handle in handles:
            handle.close()
    assert audit_folder(tmp_path).is_whole


def test_the_tables_are_made_once_and_carry_their_number(tmp_path: Path) -> None:
    """Opening again changes nothing; the file says whose it is."""
    write_run(tmp_path)
    for _ in range(2):
        with Logbook.open(tmp_path) as logbook:
            assert logbook.rows("PRAGMA user_version") == [(2,)]
            assert logbook.rows("PRAGMA application_id") == [(0x45594F54,)]
            assert logbook.writer == logbook.rows("SELECT value FROM setting")[0][0]
