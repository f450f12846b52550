"""Stray lines, in a process of its own so that its standard error is a real one."""

import subprocess
import sys

PROGRAM = """
import os, sys
from runner.voice.card.stray import keep_stray_lines_off
os.write(2, b"before ")
with keep_stray_lines_off():
    os.write(2, b"stray ")
    print("own", end=" ", file=sys.stderr)
    print("drawn", end=" ", file=sys.__stderr__)
os.write(2, b"after ")
print("last", file=sys.stderr)
"""


def test_a_library_is_kept_off_the_screen_and_python_is_not() -> None:
    """What is written to the descriptor inside is gone; all else arrives, in order."""
    done = subprocess.run([sys.executable, "-c", PROGRAM], capture_output=True, text=True, check=True)
    assert done.stderr.split() == ["before", "own", "drawn", "after", "last"]
