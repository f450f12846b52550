"""The documents say what the code does: generated parts are up to date, commands exist, examples parse."""

import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from runner.cli import COMMANDS

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_generated_parts_are_up_to_date() -> None:
    """`.ci/docs.py` would change nothing: the map, the table of transitions, the list of commands."""
    done = subprocess.run(
        [sys.executable, str(ROOT / ".ci" / "docs.py"), "--check"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout.strip() == "up to date"


def test_every_command_is_in_the_readme() -> None:
    """A user finds each one."""
    assert [name for name in COMMANDS if f"eyesout {name}" not in README] == []


def test_every_command_in_the_readme_exists() -> None:
    """No document promises a command that is not there."""
    code = " ".join(re.findall(r"```.*?```|`[^`]+`", README, re.DOTALL))
    assert set(re.findall(r"eyesout ([a-z]+)", code)) <= set(COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_with_an_example(name: str) -> None:
    """`--help` ends with an example that names the command itself."""
    done = subprocess.run(
        [sys.executable, "-m", "runner.cli", name, "--help"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert f"example: eyesout {name}" in done.stdout
    assert shlex.split(COMMANDS[name].example)[:2] == ["eyesout", name]


@pytest.mark.parametrize("extra", ["instructor", "paper", "plots", "school", "sign"])
def test_every_extra_is_named_where_it_is_needed(extra: str) -> None:
    """Nobody learns of it from an error first; those of developers are in DEVELOPERS.md."""
    assert f"eyesout[{extra}]" in README
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"][
        "optional-dependencies"
    ]
    assert declared.keys() - {"test", "bench", "vosk-test"} == {
        "instructor",
        "paper",
        "plots",
        "school",
        "sign",
    }
