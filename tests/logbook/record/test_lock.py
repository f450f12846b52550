import signal
import subprocess
import sys
from pathlib import Path

import pytest

from runner.errors import RecordError
from runner.logbook.record.lock import RunLock

HOLDER = """
import sys
from pathlib import Path
from runner.logbook.record.lock import RunLock
lock = RunLock(Path(sys.argv[1]), "run-1")
print("held", flush=True)
sys.stdin.read()
"""


def test_a_second_opener_is_refused_in_one_line(tmp_path: Path) -> None:
    """The message names the run and says what to do."""
    lock = RunLock(tmp_path, "run-1")
    with pytest.raises(RecordError, match="run run-1 is open in another eyesout; finish or close"):
        RunLock(tmp_path, "run-1")
    lock.release()
    RunLock(tmp_path, "run-1").release()


def test_two_runs_do_not_hinder_each_other(tmp_path: Path) -> None:
    """Each run has its own lock."""
    first, second = RunLock(tmp_path, "run-1"), RunLock(tmp_path, "run-2")
    first.release()
    second.release()


def test_another_process_is_refused_until_the_holder_is_killed(tmp_path: Path) -> None:
    """The operating system lets go at SIGKILL: no stale lock is left."""
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(tmp_path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as child:
        assert child.stdout is not None
        assert child.stdout.readline() == b"held\n"
        with pytest.raises(RecordError, match="open in another eyesout"):
            RunLock(tmp_path, "run-1")
        child.send_signal(signal.SIGKILL)
        child.wait()
        RunLock(tmp_path, "run-1").release()


def test_a_final_release_leaves_no_file(tmp_path: Path) -> None:
    """The lock of a finished run is not kept."""
    RunLock(tmp_path, "run-1").release(is_final=True)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_one_line(tmp_path: Path) -> None:
    """A file stands where the lock folder should be."""
    (tmp_path / "open").write_text("")
    with pytest.raises(RecordError, match="cannot lock run run-1"):
        RunLock(tmp_path / "open", "run-1")
