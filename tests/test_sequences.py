"""The commands in README.md and DEVELOPERS.md, typed as they stand, by a stranger in an empty folder."""

import json
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from runner.checklist.format.check import Check, Item
from runner.checklist.format.check_load import load_check
from runner.checklist.kind.choice import Choice
from runner.checklist.kind.reading import Reading
from runner.language.catalogue import Outcome

ROOT: Final = Path(__file__).resolve().parent.parent
DOCUMENTS: Final = ("README.md", "DEVELOPERS.md")
EXCEPTIONS: Final = {
    "lint --prove my-check": "takes half a minute; .ci/run proves the checks derived from shipped airplanes",
    "python3 -m venv": "makes the environment that these tests already run in",
    "pip install": "asks the package index on the network",
    "apt install": "asks Debian's servers on the network, and must be root",
    "pytest": "is this run",
    ".ci/": "runs these tests again, or installs packages",
    "eyesout devices": "needs a sound library that the system may lack",
    "eyesout mic": "needs a microphone",
}
"""Beginnings of commands that are not run here, each with its reason."""
BY_KEYS: Final = ("--keys", "--plain")
"""Added to a run that would ask for sound; it is left at once, with exit code 1 and an open record."""
OTHER_NAMES: Final = {
    "Merlow ML-2": "Lark Three",
    "communication 1": "forward radio",
    "left attitude gyro": "pilot's horizon",
    "reserve inverter": "standby inverter",
    "fire lights": "fire lamps",
}
DIGITS: Final = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]


def blocks(document: str) -> list[list[str]]:
    """The commands of each bash block, comments and `.venv/bin/` taken off, `a && b` as two."""
    text = (ROOT / document).read_text(encoding="utf-8")
    found = re.findall(r"```bash\n(.*?)```", text, re.DOTALL)
    return [[*_commands(block)] for block in found]


def _commands(block: str) -> Iterator[str]:
    for line in block.splitlines():
        for command in line.split(" && "):
            words = shlex.split(command, comments=True)
            if words:
                yield shlex.join([words[0].removeprefix(".venv/bin/"), *words[1:]])


def exception_of(command: str) -> str:
    """The beginning for which it is not run; empty when it is."""
    return next((start for start in EXCEPTIONS if start in command), "")


class Stranger:
    """Somebody with an empty folder, a home of their own, and an airplane file of their own."""

    def __init__(self, folder: Path) -> None:
        self.home, self.work, shims = folder / "home", folder / "my work", folder / "bin"
        for made in (self.home, self.work, shims):
            made.mkdir()
        eyesout = shims / "eyesout"
        eyesout.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m runner.cli "$@"\n', encoding="utf-8")
        eyesout.chmod(0o755)
        self.path = f"{shims}:{os.environ['PATH']}"

    def own_airplane(self, place: str) -> None:
        """A shipped one under other names."""
        text = (ROOT / "checklists" / "airplanes" / "merlow-ml2.yaml").read_text(encoding="utf-8")
        for old, new in OTHER_NAMES.items():
            assert old in text
            text = text.replace(old, new)
        (self.work / place).parent.mkdir(parents=True, exist_ok=True)
        (self.work / place).write_text(text, encoding="utf-8")

    def type(self, command: str) -> str:
        """Run it in a shell; its output. The exit code must be that of a success, or of a run left open."""
        words = shlex.split(command)
        is_run = words[:2] == ["eyesout", "run"] and "--pilot" not in words
        is_drill = words[:2] == ["eyesout", "drill"] and not {"--faults", "--list", "--debrief"} & set(words)
        is_left = is_run or is_drill or words[:2] in (["eyesout", "quiz"], ["eyesout", "recite"])
        if is_run or is_drill:
            words += [word for word in BY_KEYS if word not in words]
        if "my-pilot.yaml" in words and not (self.work / "my-pilot.yaml").exists():
            self.own_pilot()
        environment = {"PATH": self.path, "HOME": str(self.home), "PYTHONPATH": str(ROOT), "TERM": "xterm"}
        done = subprocess.run(
            ["bash", "-c", shlex.join(words)],
            cwd=self.work,
            env=environment,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            check=False,
            timeout=100,
        )
        assert done.returncode == (1 if is_left else 0), (command, done.stdout[-2000:], done.stderr)
        return done.stdout

    def own_pilot(self) -> None:
        """A pilot file for my-check.yaml: every item passes, each clock ends in good time."""
        check = load_check(self.work / "my-check.yaml")
        lines = [{"on": "cautions", "say": "continue"}, *answers(check)]
        pilot = {"check": "my-check", "voice": "en-us+f3", "lines": lines}
        (self.work / "my-pilot.yaml").write_text(
            json.dumps(pilot, indent=1), encoding="utf-8"
        )  # JSON is YAML


def answers(check: Check) -> Iterator[dict[str, str]]:
    """What lets each item pass."""
    clocks = {item.name for item, _ in check.clocks()}
    for number, item in enumerate(check.items):
        said = {"say": _passing(item)}
        yield (
            {"clock": item.name, "after": str(20 + 2 * number), **said}
            if item.name in clocks
            else {
                "on": item.name,
                **said,
            }
        )


def _passing(item: Item) -> str:
    if isinstance(item.body, Reading):
        band, step = item.body.pass_band, item.body.resolution
        words = str(((band.low + band.high) / 2).quantize(step))
        return " ".join("decimal" if one == "." else DIGITS[int(one)] for one in words)
    if isinstance(item.body, Choice):
        return item.body.responses[0].phrases[0]
    return next(one.phrases[0] for one in item.responses if one.outcome is Outcome.PASS)


@pytest.fixture
def stranger(tmp_path: Path) -> Stranger:
    """In an empty folder."""
    return Stranger(tmp_path)


@pytest.mark.timeout(300)
def test_every_sequence_can_be_typed_as_it_stands(stranger: Stranger) -> None:
    """Both documents from top to end, with an airplane's file; the same twice is typed once."""
    stranger.own_airplane("my-airplane.yaml")
    commands = [one for document in DOCUMENTS for block in blocks(document) for one in block]
    told = {one: stranger.type(one) for one in dict.fromkeys(commands) if not exception_of(one)}
    assert len(told) > 12
    scripted = told["eyesout history --logbook my-folder"]
    assert "walk-round" in scripted, "a scripted run and the history use the same folder"
    assert (stranger.work / "my-folder" / "exchange.wav").is_file()
    assert "scripted" not in {path.name for path in (stranger.home / ".local/share/eyesout").iterdir()}


def test_the_own_airplane_s_sequence_serves_names_and_folders_with_spaces(stranger: Stranger) -> None:
    """Other names, the airplane in one folder, its check in another; what takes long is typed above."""
    (block,) = (one for one in blocks("README.md") if any("derive my-airplane.yaml" in line for line in one))
    stranger.own_airplane("own airplanes/lark three.yaml")
    (stranger.work / "my checks").mkdir()
    for line in block:
        if "--prove" in line or "--pilot" in line or "my-folder" in line:
            continue
        own = line.replace("my-airplane.yaml", "'own airplanes/lark three.yaml'")
        stranger.type(own.replace("my-check.yaml", "'my checks/morning check.yaml'"))
    check = load_check(stranger.work / "my checks" / "morning check.yaml")
    assert check.airplane == "../own airplanes/lark three.yaml"
    assert "Lark Three" in check.title
    assert "lark-three" in stranger.type("eyesout history")


def test_no_exception_is_left_over() -> None:
    """Each stands in one of the documents, or is no exception any more."""
    commands = [one for document in DOCUMENTS for block in blocks(document) for one in block]
    assert {exception_of(one) for one in commands} - {""} == set(EXCEPTIONS)
