"""What the commands do beside what they are asked for: nothing on the internet, no file out of place."""

import ast
import contextlib
import os
import pty
import re
import select
import shutil
import subprocess
import sys
import termios
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import pytest

ROOT: Final = Path(__file__).resolve().parent.parent
OWN: Final = (".cache/eyesout", ".local/share/eyesout")
"""Of a home: the cache and the data folder of the XDG base directory specification, each with our name."""
COMMANDS: Final = (
    "--version",
    "demo --folder out",
    "run merlow-reserve --keys",
    "run merlow-reserve --plain",
    f"run merlow-reserve --pilot {ROOT}/demo/merlow-pilot.yaml --logbook records",
    "lint merlow-reserve",
    "bus merlow-ml2 --svg bus.svg",
    "endurance merlow-ml2 --chart endurance.svg",
    "endurance merlow-ml2 --chart endurance.png",
    "derive tarn-qx83 --to check.yaml",
    "quiz merlow-ml2 --count 3",
    "recite merlow-reserve",
    "due",
    "history",
    "show --logbook LOGBOOK",
    "report --logbook LOGBOOK --to run.html",
    "report --logbook LOGBOOK --pdf --to run.pdf",
    "report --logbook LOGBOOK --fleet --to fleet.html",
    "trend merlow-ml2 --logbook LOGBOOK --graph --charts charts",
    "squawk list --logbook LOGBOOK",
    "maintenance merlow-ml2 --logbook LOGBOOK",
    "verify --logbook LOGBOOK",
    "export --logbook LOGBOOK --to runs.jsonl",
    "hear --phrases unable RECORDING",
    "hear --phrases unable --engine vosk RECORDING",
    "models list",
    "models verify",
    "mic --seconds 0.1",
    "mic --help",
    "devices",
)

WITH_DEVICES: Final = ("run merlow-reserve --plain", "mic --seconds 0.1", "devices")

needs_strace = pytest.mark.skipif(shutil.which("strace") is None, reason="needs Debian's strace")


class Surroundings:
    """A new user on this computer, whose every socket is seen."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.has_session = False
        """Whether there is a folder for sockets, as in every session of a desktop."""
        for name in ("home", "work", "tmp", "session"):
            (folder / name).mkdir()
        self.trace = folder / "trace"

    def command(self, *words: str) -> list[str]:
        """The words under strace, with everything that they start."""
        calls = "trace=socket,connect,bind,sendto,sendmsg,sendmmsg"
        return ["strace", "-f", "-qq", "--seccomp-bpf", "-e", calls, "-o", str(self.trace), *words]

    @property
    def environment(self) -> dict[str, str]:
        """As little as there can be."""
        kept = {name: os.environ[name] for name in ("PATH", "PULSE_SERVER") if name in os.environ}
        folders = {"HOME": str(self.folder / "home"), "TMPDIR": str(self.folder / "tmp")}
        if self.has_session:
            folders["XDG_RUNTIME_DIR"] = str(self.folder / "session")
            folders["PULSE_COOKIE"] = str(self.folder / "session" / "cookie")
        return {**kept, **folders, "PYTHONPATH": str(ROOT), "TERM": "xterm-256color"}

    def run(self, *words: str) -> int:
        """The exit code."""
        done = subprocess.run(
            self.command(*words),
            cwd=self.folder / "work",
            env=self.environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            check=False,
            timeout=110,
        )
        return done.returncode

    @property
    def families(self) -> set[str]:
        """The address families of all sockets, in the names of socket(2)."""
        return set(re.findall(r"\bAF_[A-Z0-9]+", self.trace.read_text(errors="replace")))

    @property
    def strays(self) -> list[str]:
        """Files in the home that are not where ours belong, and whatever is left of temporary ones."""
        home = self.folder / "home"
        found = [str(path.relative_to(home)) for path in home.rglob("*") if not path.is_dir()]
        left = [path.name for path in (self.folder / "tmp").iterdir()]
        return [path for path in found if not path.startswith(OWN)] + left


@pytest.fixture
def surroundings(tmp_path: Path) -> Surroundings:
    """New for each command."""
    return Surroundings(tmp_path)


@pytest.fixture(scope="module")
def performed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a demo that has been run."""
    folder = tmp_path_factory.mktemp("performed")
    eyesout = [sys.executable, "-m", "runner.cli", "demo", "--folder", str(folder)]
    subprocess.run(eyesout, cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    return folder


def _words(command: str, performed: Path) -> list[str]:
    named = {
        "LOGBOOK": str(performed / "logbook"),
        "RECORDING": str(ROOT / "tests/voice/korean/gamsahamnida.flac"),
    }
    return [sys.executable, "-m", "runner.cli", *(named.get(word, word) for word in command.split())]


@pytest.mark.strace
@needs_strace
@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_talks_to_nobody_and_leaves_nothing(
    command: str, performed: Path, surroundings: Surroundings
) -> None:
    """Sockets of this computer only (a sound server's), and files in our own folders only."""
    # A sound server's own library keeps a socket and a cookie in the session's folder, or else the home.
    surroundings.has_session = command in WITH_DEVICES
    # done, left unfinished, no sound device, no records yet
    assert surroundings.run(*_words(command, performed)) in (0, 1, 4, 6)
    assert surroundings.families <= {"AF_UNIX"}
    assert surroundings.strays == []


@pytest.mark.strace
@needs_strace
def test_the_full_screen_talks_to_nobody_and_leaves_nothing(surroundings: Surroundings) -> None:
    """From its first picture until ctrl+q on a terminal."""
    words = surroundings.command(sys.executable, "-m", "runner.cli", "run", "merlow-reserve", "--keys")
    assert _shown_and_left(words, surroundings) == 1
    assert surroundings.families <= {"AF_UNIX"}
    assert surroundings.strays == []


def _shown_and_left(words: Sequence[str], surroundings: Surroundings) -> int:
    """Leave by ctrl+q when the first picture is there; the exit code."""
    ours, theirs = pty.openpty()
    termios.tcsetwinsize(theirs, (34, 120))
    child = subprocess.Popen(
        words,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        cwd=surroundings.folder,
        env=surroundings.environment,
    )
    os.close(theirs)
    try:
        shown = b""
        with contextlib.suppress(OSError):  # a terminal that nobody holds any more
            while True:
                if select.select([ours], [], [], 1.0)[0]:
                    shown += os.read(ours, 65536)
                elif b"Merlow" in shown:
                    os.write(ours, b"\x11")
        return child.wait()
    finally:
        child.kill()
        child.wait()
        os.close(ours)


@pytest.mark.strace
@needs_strace
def test_a_socket_and_a_stray_file_would_be_seen(surroundings: Surroundings) -> None:
    """The school's address is one that a command does talk to; and a program that leaves a file."""
    school = "postgresql://nobody@127.0.0.1:9/school"
    assert surroundings.run(sys.executable, "-m", "runner.cli", "sync", school) != 0
    assert "AF_INET" in surroundings.families
    surroundings.run("touch", str(surroundings.folder / "home" / "stray"))
    assert surroundings.strays == ["stray"]


def _early_imports(path: Path) -> set[str]:
    """The packages that a file imports as soon as it is read."""
    found: set[str] = set()
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.Import):
            found |= {name.name.split(".")[0] for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add((node.module or "").split(".")[0])
    return found


def test_onnxruntime_comes_by_way_of_the_adapter_that_quiets_it() -> None:
    """Training and benches too: who needs it, takes it from there."""
    files = [path for part in ("runner", "models", "tests") for path in (ROOT / part).rglob("*.py")]
    importers = [path for path in files if "onnxruntime" in _early_imports(path)]
    assert [str(path.relative_to(ROOT)) for path in importers] == ["runner/voice/ear/network.py"]
