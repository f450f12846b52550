"""verify beside a check that is being flown: no false alarm, whatever is appended meanwhile."""

import subprocess
import sys
import threading
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from runner.core.record.entry import Held
from runner.logbook.proof.audit import audit, audit_folder
from runner.logbook.record.run_store import Logbook
from runner.logbook.record.still import held_still
from tests.logbook.sample import STARTED_AT, new_run, write_run

WRITER = """
import sys
from pathlib import Path
from runner.logbook.record.run_store import Logbook
from tests.logbook.sample import STARTED_AT, new_run, whole_run
with Logbook.open(Path(sys.argv[1])) as logbook:
    for number, _ in enumerate(sys.stdin, 1):
        with new_run(logbook, started_at=STARTED_AT + 100 * number) as handle:
            for entry in whole_run(STARTED_AT + 100 * number):
                handle.append(entry)
        print("written", flush=True)
"""


def test_entries_that_arrive_between_two_queries_are_no_fault(tmp_path: Path) -> None:
    """After each single query of an audit another entry is appended: the audit sees none of them."""
    with Logbook.open(tmp_path) as logbook, new_run(logbook) as handle:
        handle.append(Held(STARTED_AT))
        with held_still(tmp_path) as still:
            rows, asked = still.rows, []

            class Busy:
                """The same shelf on a busy morning."""

                place = still.place

                def rows(self, query: str, parameters: Sequence[object] = ()) -> list[tuple[Any, ...]]:
                    """Answer, then let an entry arrive."""
                    found = rows(query, parameters)
                    asked.append(query)
                    handle.append(Held(STARTED_AT + len(asked)))
                    return found

            found = audit(Busy())
        assert len(asked) > 8
        assert found.is_whole, found
        assert [verdict.lines for verdict in found.verdicts] == [2]
    assert audit_folder(tmp_path).verdicts[0].lines == len(asked) + 2


def test_a_hundred_audits_beside_another_process_find_nothing(tmp_path: Path) -> None:
    """A process writes a run for each audit, beginning and closing the file's log as it goes."""
    book = tmp_path / "book"
    write_run(book)
    command = [sys.executable, "-c", WRITER, str(book)]
    writer = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    assert writer.stdin is not None
    assert writer.stdout is not None
    counts = []
    for number in range(100):
        writer.stdin.write("one more\n")
        writer.stdin.flush()
        found = audit_folder(book)
        assert found.is_whole, [
            one for one in (*found.faults, *found.verdicts) if getattr(one, "faults", one)
        ]
        counts.append(sum(verdict.lines for verdict in found.verdicts))
        if number >= 10:  # the writer stays no further behind, however quick an audit is
            writer.stdout.readline()
    writer.communicate()
    assert writer.returncode == 0
    assert counts == sorted(counts)
    assert counts[-1] > counts[0]


def test_audits_beside_threads_of_the_same_process_find_nothing(tmp_path: Path) -> None:
    """Two runs are open and grow while verify runs in a loop."""
    with Logbook.open(tmp_path) as logbook:
        handles = [new_run(logbook, started_at=STARTED_AT + 60 * number) for number in range(2)]
        done = threading.Event()

        def grow(number: int) -> None:
            count = 0
            while not done.is_set():
                count += 1
                handles[number].append(Held(STARTED_AT + count))

        threads = [threading.Thread(target=grow, args=(number,)) for number in range(2)]
        for thread in threads:
            thread.start()
        try:
            for _ in range(40):
                assert audit_folder(tmp_path).is_whole
        finally:
            done.set()
            for thread in threads:
                thread.join()
            for handle in handles:
                handle.close()
