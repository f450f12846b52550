import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from runner.core.record.entry import Interrupted
from runner.errors import RecordError
from runner.logbook.record.run_store import Logbook
from tests.logbook.sample import STARTED_AT, new_run, whole_run, write_run

ROOT = Path(__file__).parents[2]

WRITER = """
import itertools, sys
from pathlib import Path
from runner.core.record.entry import Held, Released
from runner.logbook.record.run_store import Logbook
from tests.logbook.sample import STARTED_AT, new_run
handle = new_run(Logbook.open(Path(sys.argv[1])))
print(handle.run, flush=True)
for count in itertools.count():
    kind = Held if count % 2 else Released
    handle.append(kind(STARTED_AT + count))
    print(count, flush=True)
"""

STOPPED = """
import os, signal, sys
from pathlib import Path
from runner.logbook.record.run_store import Logbook
from tests.logbook.sample import new_run, whole_run
handle = new_run(Logbook.open(Path(sys.argv[1])))
print(handle.run, flush=True)
for count, entry in enumerate(whole_run(), start=1):
    handle.append(entry)
    if count == int(sys.argv[2]):
        os.kill(os.getpid(), signal.SIGKILL)
"""


def _child(script: str, *arguments: str) -> subprocess.Popen[str]:
    environment = os.environ | {"PYTHONPATH": os.pathsep.join([str(ROOT), *sys.path])}
    return subprocess.Popen(
        [sys.executable, "-c", script, *arguments],
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env=environment,
    )


@pytest.mark.parametrize("seed", range(12))
def test_whatever_was_acknowledged_before_a_kill_is_there(tmp_path: Path, seed: int) -> None:
    """A child appends without pause and is killed at a random moment; one entry may be more."""
    acknowledged = 0
    wanted = random.Random(seed).randint(1, 60)
    with _child(WRITER, str(tmp_path)) as child:
        assert child.stdout is not None
        run = child.stdout.readline().strip()
        while acknowledged < wanted:
            child.stdout.readline()
            acknowledged += 1
        child.send_signal(signal.SIGKILL)
        acknowledged += len([line for line in child.stdout if line.endswith("\n")])
    with Logbook.open(tmp_path) as logbook:
        entries = logbook.entries(run)
        assert acknowledged <= len(entries) <= acknowledged + 1
        assert [entry.at for entry in entries] == [STARTED_AT + count for count in range(len(entries))]
        with logbook.resume(run) as handle:
            handle.append(Interrupted(STARTED_AT + 999))
        assert len(logbook.entries(run)) == len(entries) + 1


@pytest.mark.parametrize("count", range(1, len(list(whole_run())) + 1))
def test_a_run_killed_after_any_entry_is_whole_up_to_it(tmp_path: Path, count: int) -> None:
    """SIGKILL right after each entry of a run: that entry is there, and the rest can follow."""
    with _child(STOPPED, str(tmp_path), str(count)) as child:
        assert child.stdout is not None
        run = child.stdout.readline().strip()
    assert child.returncode == -signal.SIGKILL
    entries = list(whole_run())
    with Logbook.open(tmp_path) as logbook:
        assert logbook.entries(run) == tuple(entries[:count])
        if count == len(entries):
            return
        with logbook.resume(run) as handle:
            for entry in entries[count:]:
                handle.append(entry)
        assert logbook.entries(run) == tuple(entries)


def test_a_run_in_use_cannot_be_opened_by_a_second_process(tmp_path: Path) -> None:
    """The second gets one line, and the first goes on unharmed."""
    with _child(WRITER, str(tmp_path)) as child:
        assert child.stdout is not None
        run = child.stdout.readline().strip()
        with (
            Logbook.open(tmp_path) as logbook,
            pytest.raises(RecordError, match=f"run {run} is open in another"),
        ):
            logbook.resume(run)
        before = int(child.stdout.readline())
        assert int(child.stdout.readline()) == before + 1
        child.kill()


def test_two_processes_may_write_different_runs_at_once(tmp_path: Path) -> None:
    """One writes all the time while this one makes a whole run."""
    with _child(WRITER, str(tmp_path)) as child:
        assert child.stdout is not None
        other = child.stdout.readline().strip()
        run = write_run(tmp_path)
        child.kill()
    with Logbook.open(tmp_path) as logbook:
        assert logbook.entries(run) == tuple(whole_run())
        assert [entry.at for entry in logbook.entries(other)][:1] in ([], [STARTED_AT])


def test_a_handle_that_was_closed_lets_the_same_process_in(tmp_path: Path) -> None:
    """Closing is enough; the program need not end."""
    with Logbook.open(tmp_path) as logbook:
        with new_run(logbook) as handle:
            handle.append(next(whole_run()))
        with logbook.resume(handle.run) as again:
            assert again.run == handle.run
