"""A copy of the tree, to which something is added as DEVELOPERS.md says, and programs run in it."""

import os
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

from tests.test_recipes import RECIPES, ROOT

COPIED = ("runner", "checklists")
SHARED = ("models", "demo")
"""Folders that no recipe changes."""
COMMANDS = """
import contextlib, io
from runner import cli

def done(*words):
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        code = cli.main([*words, "--logbook", "logbook"])
    assert not code, (words, code, printed.getvalue())
    return printed.getvalue()
"""
"""Every command in one process, since most of a command's time is its start."""


@dataclass
class Copy:
    """The tree in another folder."""

    root: Path
    changed: set[str] = field(default_factory=set)
    """Files that were changed, from the root."""

    @classmethod
    def into(cls, folder: Path) -> "Copy":
        """A copy of all that runs; what was compiled comes along, so that it starts at once."""
        root = folder / "tree"
        for name in COPIED:
            shutil.copytree(ROOT / name, root / name, ignore=shutil.ignore_patterns("_data"))
        for name in SHARED:
            (root / name).symlink_to(ROOT / name, target_is_directory=True)
        return cls(root)

    def text(self, path: str) -> str:
        """What stands in the file now."""
        return (self.root / path).read_text(encoding="utf-8")

    def add(self, path: str, before: str, text: str) -> None:
        """Put these lines in front of the one line that begins so."""
        lines = self.text(path).splitlines(keepends=True)
        numbers = [number for number, line in enumerate(lines) if line.startswith(before)]
        assert len(numbers) == 1, f"{len(numbers)} lines of {path} begin with {before!r}"
        lines.insert(numbers[0], text)
        (self.root / path).write_text("".join(lines), encoding="utf-8")
        self.changed.add(path)

    def put_behind(self, path: str, start: str, text: str) -> None:
        """Put this into the one line that begins so, behind that beginning."""
        whole = self.text(path)
        assert whole.count(f"\n{start}") == 1, f"not one line of {path} begins with {start!r}"
        (self.root / path).write_text(whole.replace(start, f"{start}{text}"), encoding="utf-8")
        self.changed.add(path)

    def import_into(self, path: str, line: str) -> None:
        """Put this import in front of the others."""
        first = next(each for each in self.text(path).splitlines() if each.startswith("from runner."))
        self.add(path, first, f"{line}\n")

    def assert_follows(self, what: str, most: int) -> None:
        """Nothing was changed that the recipe does not name, and no more files than it may take."""
        named = re.findall(r"`([\w/.]+/[\w.]+)`", RECIPES[what])
        others = {path for path in self.changed if path.removeprefix("runner/") not in named}
        assert not others, f"the recipe for {what} does not name {sorted(others)}"
        assert len(self.changed) <= most

    def run(self, program: str, typed: str = "", **files: str) -> str:
        """What the program prints beside these YAML files; it must end well, with nothing on the side."""
        folder = self.root.parent / "home"
        folder.mkdir(exist_ok=True)
        for name, text in files.items():
            (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
        ended = subprocess.run(
            [sys.executable, "-c", COMMANDS + program],
            input=typed,
            cwd=folder,
            env={"PATH": os.environ["PATH"], "HOME": str(folder), "PYTHONPATH": str(self.root)},
            capture_output=True,
            text=True,
            check=False,
        )
        assert (ended.returncode, ended.stderr) == (0, ""), ended.stderr + ended.stdout
        return ended.stdout
