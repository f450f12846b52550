"""Standard streams that are closed, full, broken, or in another encoding."""

import itertools
import os
import subprocess
import sys
from pathlib import Path

import pytest

from runner.errors import OutputError
from runner.terminal import nearest_signs

ROOT = Path(__file__).resolve().parent.parent
COMMANDS = (
    "--help",
    "bus merlow-ml2",
    "endurance merlow-ml2 --json",
    "lint merlow-reserve",
    "derive tarn-qx83",
    "models list",
    "run merlow-reserve --keys --plain --by Zoë --logbook logbook",
)
OUTPUT_CODE = 7
BROKEN_PIPE_CODE = 141
"""128 and 13, SIGPIPE's number: what a shell gives a program that it ended (POSIX, sh, 2.8.2)."""


def performed(
    command: str, streams: str, folder: Path, **environment: str
) -> subprocess.CompletedProcess[bytes]:
    """What a shell sees of `eyesout COMMAND STREAMS` in an empty home."""
    surroundings = {"PATH": os.environ["PATH"], "HOME": str(folder), "PYTHONPATH": str(ROOT), **environment}
    line = f"{sys.executable} -m runner.cli {command} {streams}"
    return subprocess.run(
        ["bash", "-c", line], cwd=folder, env=surroundings, capture_output=True, check=False
    )


@pytest.mark.parametrize("command", COMMANDS)
def test_a_full_disk_behind_standard_output_is_one_line(command: str, tmp_path: Path) -> None:
    """/dev/full is full always (full(4))."""
    done = performed(command, "</dev/null >/dev/full", tmp_path)
    assert done.returncode == OUTPUT_CODE == OutputError.exit_code
    assert done.stderr.splitlines()[-1] == b"eyesout: cannot go on: standard output: No space left on device"
    assert b"Traceback" not in done.stderr


@pytest.mark.parametrize("command", COMMANDS)
def test_a_closed_standard_output_is_one_line(command: str, tmp_path: Path) -> None:
    """Nothing is begun; and no file of ours takes its place."""
    done = performed(command, ">&-", tmp_path)
    assert done.returncode == OUTPUT_CODE
    assert done.stderr.startswith(b"eyesout: standard output is closed")
    assert done.stderr.count(b"\n") == 1
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", COMMANDS)
def test_a_reader_that_has_gone_ends_it_quietly(command: str, tmp_path: Path) -> None:
    """As `| head` does once it has its lines."""
    done = performed(command, "</dev/null > >(true); exit $?", tmp_path)
    assert done.stderr == b""
    assert done.returncode in (0, 1, BROKEN_PIPE_CODE)


def test_a_reader_that_has_gone_is_told_by_the_exit_code(tmp_path: Path) -> None:
    """A run whose output nobody reads any more was not completed, and does not say so."""
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run(
        [sys.executable, "-m", "runner.cli", "bus", "merlow-ml2"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=writer,
        stderr=subprocess.PIPE,
        check=False,
    )
    os.close(writer)
    assert (done.returncode, done.stderr) == (BROKEN_PIPE_CODE, b"")


@pytest.mark.parametrize("command", COMMANDS)
def test_a_closed_standard_input_is_an_empty_one(command: str, tmp_path: Path) -> None:
    """A run that nobody can answer stays open."""
    done = performed(command, "<&-", tmp_path)
    assert done.returncode in (0, 1)
    assert done.stderr == b""
    assert (b"go on with: eyesout run --resume" in done.stdout) == command.startswith("run")


@pytest.mark.parametrize(
    ("command", "encoding"), list(itertools.product(COMMANDS, ["ascii", "latin-1", "ascii:strict"]))
)
def test_text_still_comes_where_signs_are_lacking(command: str, encoding: str, tmp_path: Path) -> None:
    """All of it, in signs that the terminal has."""
    done = performed(command, "</dev/null", tmp_path, PYTHONIOENCODING=encoding, LANG="C")
    assert done.returncode in (0, 1)
    assert done.stderr == b""
    assert len(done.stdout) > 100
    done.stdout.decode(encoding.split(":", maxsplit=1)[0])


@pytest.mark.parametrize(
    ("sign", "written"),
    [
        ("Zoë", "Zoe"),
        ("20 °C", "20 deg C"),
        ("5 \N{EN DASH} 6", "5 - 6"),
        ("█▀▄", "###"),
        ("│┃─", "||-"),
        ("straße", "strasse"),
        ("1½ 10⁵", "1? 10?"),
        ("漢", "?"),
        ("\udceb", "?"),
    ],
)
def test_the_nearest_sign_is_written(sign: str, written: str) -> None:
    """Letters lose their marks; what has no likeness is a question mark (a choice of ours)."""
    error = [UnicodeEncodeError("ascii", sign, n, n + 1, "") for n, each in enumerate(sign) if each > "\x7f"]
    found = {each.object[each.start]: nearest_signs(each)[0] for each in error}
    assert "".join(found.get(each, each) for each in sign) == written
