"""The program on a terminal, from outside: it ends when it is told to, and leaves the terminal as it was."""

import os
import pty
import re
import resource
import signal
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from runner.core.record.entry import AnswerRecorded, ClockStarted, Held, NoteRecorded, NoteTyped
from runner.logbook.list.run_list import unfinished
from runner.logbook.record.run_store import Logbook
from runner.session.beginning import begin_run
from runner.session.parts import load_parts
from tests.session.live.test_live_room import record_entries

CHECK = "merlow-reserve"
AHEAD_SECONDS = 86_400.0


def command(folder: Path, *words: str) -> list[str]:
    """A run by keys alone in a logbook of its own."""
    return [sys.executable, "-m", "runner.cli", "run", *words, "--keys", "--logbook", str(folder)]


def run_plain(folder: Path, lines: str, *words: str) -> subprocess.CompletedProcess[str]:
    """A plain run that reads these lines."""
    return subprocess.run(
        [*command(folder, *words), "--plain"], input=lines, capture_output=True, text=True, check=False
    )


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_plain_run_that_is_told_to_stop_says_how_to_go_on(tmp_path: Path, number: int) -> None:
    """The exit code names the signal, the record is closed and the run can be gone on with."""
    pipe = subprocess.PIPE
    with subprocess.Popen(
        [*command(tmp_path, CHECK), "--plain"], stdin=pipe, stdout=pipe, stderr=pipe, text=True
    ) as program:
        assert program.stdout is not None
        while "Advisory only" not in (line := program.stdout.readline()):
            assert line
        program.stdout.read(len("> "))
        program.send_signal(number)
        out, err = program.communicate()
    assert (program.returncode, err) == (128 + number, "")
    assert "not over; go on with: eyesout run --resume" in out
    with Logbook.open(tmp_path) as logbook:
        logbook.resume(unfinished(logbook)[0].run).close()


@pytest.fixture
def terminal() -> Iterator[tuple[int, int]]:
    """Both ends of a terminal."""
    ours, theirs = pty.openpty()
    yield ours, theirs
    os.close(ours)
    os.close(theirs)


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT, signal.SIGHUP])
def test_the_full_screen_that_is_told_to_stop_leaves_the_terminal_clean(
    tmp_path: Path, terminal: tuple[int, int], number: int
) -> None:
    """The alternate screen is left, the cursor shown, and lines are echoed as before."""
    ours, theirs = terminal
    before = termios.tcgetattr(theirs)
    program = subprocess.Popen(
        command(tmp_path, CHECK),
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**os.environ, "TERM": "xterm-256color", "COLUMNS": "80", "LINES": "24"},
        start_new_session=True,
    )
    shown = _read_until(ours, lambda text: "CAUTIONS" in text and "decide" in text)
    assert "\x1b[?1049h" in shown
    program.send_signal(number)
    rest = _read_until(ours, lambda text: "--resume" in text)
    assert program.wait() == 128 + number
    assert "\x1b[?1049l" in rest
    assert "\x1b[?25h" in rest
    assert termios.tcgetattr(theirs) == before
    assert re.search(r"not over; go on with: eyesout run --resume \S+", rest)


def _read_until(end: int, is_enough: Callable[[str], bool]) -> str:
    text = ""
    while not is_enough(text):
        text += os.read(end, 65536).decode(errors="replace")
    return text


def test_a_run_by_keys_that_is_gone_on_with_stays_by_keys(tmp_path: Path) -> None:
    """No sound device is opened, and it says how to come back to the voice."""
    assert run_plain(tmp_path, "continue\n", CHECK).returncode == 1
    resumed = subprocess.run(
        [sys.executable, "-m", "runner.cli", "run", "--resume", "--plain", "--logbook", str(tmp_path)],
        input="",
        capture_output=True,
        text=True,
        check=False,
    )
    assert resumed.stderr == (
        "eyesout: answered by keys, as the run was begun; --engine builtin is for voice\n"
    )
    assert "answer by voice, no microphone" not in resumed.stdout


def test_a_note_is_typed_where_there_is_no_microphone(tmp_path: Path) -> None:
    """It is on record with the item in force, and `show` prints it."""
    lines = "continue\nT\nleft lamp flickers\nT\n\n"
    written = run_plain(tmp_path, lines, CHECK)
    assert "note: type it in one line; an empty line drops it" in written.stdout
    with Logbook.open(tmp_path) as logbook:
        entries = logbook.entries(unfinished(logbook)[0].run)
    kept = [entry for entry in entries if isinstance(entry, NoteTyped | NoteRecorded)]
    assert [(note.item, getattr(note, "text", "")) for note in kept] == [
        ("people", "left lamp flickers"),
        ("people", ""),
    ]


def test_a_disk_that_is_full_ends_the_run_with_its_reason(tmp_path: Path) -> None:
    """A limit on the size of files stands for the disk: exit code 6, one line, and nothing taken is lost."""
    begun = run_plain(tmp_path, "continue\n", CHECK)
    assert begun.returncode == 1
    largest = max(path.stat().st_size for path in tmp_path.iterdir() if path.is_file())
    lines = "\n".join(["standby", "continue"] * 400)
    stopped = subprocess.run(
        [*command(tmp_path, "--resume"), "--plain"],
        input=lines,
        capture_output=True,
        text=True,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (largest + 65_536,) * 2),
    )
    assert stopped.returncode == 6, stopped.stderr
    assert stopped.stderr.count("\n") == 1
    assert "The record cannot be written. The run stops here." in stopped.stderr
    holding = len(re.findall(r"^\[standby\]", stopped.stdout, re.MULTILINE))
    with Logbook.open(tmp_path) as logbook:
        entries = logbook.entries(unfinished(logbook)[0].run)
    assert 0 < holding <= sum(isinstance(entry, Held) for entry in entries)


def test_a_clock_set_back_while_stopped_is_said_and_no_time_goes_backwards(tmp_path: Path) -> None:
    """The record was made tomorrow: the run goes on from its last entry, and the clocks may be restarted."""
    parts = load_parts(CHECK)
    last_at = time.time() + AHEAD_SECONDS
    with (
        Logbook.open(tmp_path) as logbook,
        begin_run(logbook, parts, pilot="test", started_at=last_at, engine=None, is_invented=True) as record,
    ):
        for entry in record_entries(parts, last_at):
            record.append(entry)
        length, run = len(logbook.entries(record.run)), record.run
        last_at = max(entry.at for entry in logbook.entries(run))
    done = run_plain(tmp_path, "affirm\n", "--resume", run)
    assert "clock was set back" in " ".join(done.stdout.split())
    assert "Restart the clock of" in " ".join(done.stdout.split())
    with Logbook.open(tmp_path) as logbook:
        added = logbook.entries(run)[length:]
    assert all(entry.at >= last_at for entry in added)
    assert {type(entry) for entry in added} >= {ClockStarted}
    assert not any(isinstance(entry, AnswerRecorded) for entry in added)
