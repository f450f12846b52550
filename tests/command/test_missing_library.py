"""Libraries of the system that are not there: one line that says what to install, and keys that serve."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
HIDING = """
import ctypes, ctypes.util

class Library(ctypes.CDLL):
    def __init__(self, name, *rest, **named):
        if name and HIDDEN in str(name):
            raise OSError(f"{name}: cannot open shared object file: No such file or directory")
        super().__init__(name, *rest, **named)

find = ctypes.util.find_library
ctypes.util.find_library = lambda name: None if HIDDEN in name else find(name)
ctypes.CDLL = Library
ctypes.cdll = ctypes.LibraryLoader(Library)
"""
"""Python runs it at its start as `sitecustomize`, in children as well."""


def without(library: str, folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """What a command does on a computer that lacks a library."""
    (folder / "sitecustomize.py").write_text(f"HIDDEN = {library!r}\n{HIDING}")
    environment = {"PATH": os.environ["PATH"], "HOME": str(folder), "PYTHONPATH": f"{folder}:{ROOT}"}
    return subprocess.run(
        [sys.executable, "-m", "runner.cli", *words],
        cwd=folder,
        env=environment,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize("words", [("devices",), ("mic", "--seconds", "1"), ("mic", "--learn", "--by", "x")])
def test_without_portaudio_what_needs_it_says_so(words: tuple[str, ...], tmp_path: Path) -> None:
    """4, and Debian's package by its name."""
    done = without("portaudio", tmp_path, *words)
    assert (done.returncode, done.stderr.count("\n")) == (4, 1)
    assert "PortAudio is missing; apt install libportaudio2" in done.stderr


def test_without_portaudio_a_run_goes_on_by_keys(tmp_path: Path) -> None:
    """The line stands before the first view."""
    done = without("portaudio", tmp_path, "run", "merlow-reserve", "--plain", "--logbook", "logbook")
    assert "apt install libportaudio2, or use keys; answering by keys" in done.stderr
    assert done.stderr.count("\n") == 1
    assert "[cautions]" in done.stdout


def test_without_espeak_a_demo_says_what_to_install(tmp_path: Path) -> None:
    """5, and both ways to get it."""
    done = without("espeak", tmp_path, "demo", "--folder", "out")
    assert (done.returncode, done.stderr.count("\n")) == (5, 1)
    assert done.stderr.startswith("eyesout: cannot speak: ")
    assert "pip install espeakng-loader, or apt install libespeak-ng1" in done.stderr
