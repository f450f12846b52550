"""`eyesout drill --instructor` as a process of its own, by typed lines."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
WORDS = ("merlow-reserve", "--keys", "--plain", "--seed", "4", "--by", "Ann", "--instructor")
FAULT = "flood lamps, left: bulb out"


class DrillProcess:
    """A drill whose student types, and the address of its page."""

    def __init__(self, process: "subprocess.Popen[str]", folder: Path) -> None:
        self._process, self.folder = process, folder
        self.address = self.read_until(r"http://\S+")

    @property
    def number(self) -> int:
        """The system's number of the process."""
        return self._process.pid

    def read_until(self, pattern: str) -> str:
        """What matches first in the lines to come."""
        assert self._process.stdout is not None
        for line in self._process.stdout:
            if found := re.search(pattern, line):
                return found[0]
        raise AssertionError(f"no {pattern} before the end")

    def type(self, line: str) -> None:
        """One line of the student."""
        assert self._process.stdin is not None
        self._process.stdin.write(f"{line}\n")
        self._process.stdin.flush()

    def end_lines(self) -> None:
        """The student leaves."""
        assert self._process.stdin is not None
        self._process.stdin.close()
        self._process.stdin = None

    def end(self) -> tuple[int, str]:
        """The exit code and the rest of what is printed."""
        rest, _ = self._process.communicate(timeout=60)
        return self._process.returncode, rest


@contextmanager
def drill_process(folder: Path, *more: str) -> Iterator[DrillProcess]:
    """One drill with a burnt bulb; it ends with the block."""
    command = [sys.executable, "-m", "runner.cli", "drill", *WORDS, "--fault", FAULT, *more]
    environment = {
        "PATH": os.environ["PATH"],
        "HOME": str(folder),
        "PYTHONPATH": str(ROOT),
        "PYTHONUNBUFFERED": "1",
        "PYTHONIOENCODING": "utf-8",
    }
    process = subprocess.Popen(
        [*command, "--logbook", str(folder / "logbook")],
        env=environment,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
    )
    try:
        yield DrillProcess(process, folder)
    finally:
        process.kill()
        process.communicate(timeout=20)
