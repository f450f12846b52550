"""What would make the house hard to find one's way in is counted, and stays at its floor."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from tests.ci_script import ROOT, ci_script

HOUSE, DEAD = ci_script("house"), ci_script("dead")
SOURCES = HOUSE.sources()
FEW = {
    path: source
    for path, source in SOURCES.items()
    if path.relative_to(HOUSE.PACKAGE).parts[0] in ("errors.py", "core", "checklist", "language", "prove")
}
"""Enough of the house to see one more thing in, and quick to count."""
BEFORE = HOUSE.counted(FEW)


def _run(script: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, str(ROOT / ".ci" / script), "--names"]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_every_count_is_at_its_floor() -> None:
    """The script says so by its exit code, and prints each count."""
    done = _run("house.py")
    assert done.returncode == 0, done.stdout
    assert [count for count in HOUSE.FLOORS if count not in done.stdout] == []


def test_nothing_is_defined_that_only_tests_use() -> None:
    """Dead code is used or gone; what is kept for a reader outside the package says for whom."""
    done = _run("dead.py")
    assert (done.returncode, done.stdout) == (0, "nothing is dead\n")


def test_what_is_kept_for_others_is_still_there() -> None:
    """A reason for a name that is gone is dead as well."""
    made = {each.name for path, (tree, _) in SOURCES.items() for each in DEAD.made_in(tree, path)}
    assert set(DEAD.KEPT) <= made


@pytest.mark.parametrize(
    ("count", "text"),
    [
        ("class names used twice", "class Check: ..."),
        ("isinstance of an item's body without assert_never", "def f(x): return isinstance(x, Reading)"),
        ("string compares with what an answer says", "x = y in (PULLED, STUCK)"),
        ("string compares with what an answer says", 'x = y == "squawk"'),
        ("string compares with what an answer says", 'x = y in ("flag pulled", "flag stuck")'),
        ("files with SQL outside logbook", "x = 'SELECT id FROM run'"),
        ("modules under 25 lines with one importer", "x = 1"),
        ("modules imported by one other", "x = 1"),
        ("lines of runner", "x = 1"),
    ],
)
def test_one_more_is_seen(count: str, text: str) -> None:
    """One more module, of that text, raises the count by one."""
    errors = HOUSE.PACKAGE / "errors.py"
    modules = {**FEW, HOUSE.PACKAGE / "screen" / "added.py": HOUSE.source_of(text)}
    with_import = [*FEW[errors].tree.body, ast.parse("import runner.screen.added").body[0]]
    modules[errors] = FEW[errors]._replace(tree=ast.Module(with_import, []))
    assert len(HOUSE.counted(modules)[count]) == len(BEFORE[count]) + 1


def test_a_file_name_and_a_wide_folder_are_seen() -> None:
    """A second `event.py`, and a folder of seventeen; `command` may have as many as there are commands."""
    modules = dict(FEW)
    for name in ("event", *(f"more_{number}" for number in range(16))):
        modules[HOUSE.PACKAGE / "prove" / f"{name}.py"] = HOUSE.source_of("")
        modules[HOUSE.PACKAGE / "command" / f"{name}.py"] = HOUSE.source_of("")
    counted = HOUSE.counted(modules)
    assert counted["file names used twice outside command"] == ["event.py"]
    assert counted["folders over 16 files outside command"] == ["runner/prove"]


def test_a_name_that_nobody_uses_is_dead() -> None:
    """A function, a class and a field; the members of an enumeration are looked up by their values."""
    text = "class Lone:\n    field: int\n    def act(self): ...\nclass Kind(StrEnum):\n    ONE = 'one'\n"
    made = list(DEAD.made_in(ast.parse(text), Path("lone.py")))
    assert [each.name for each in made] == ["Lone", "field", "act", "Kind"]
    dead = DEAD.dead_in(made, {"act": 1, "field": 1, "Kind": 2})
    assert [each.name for each in dead] == ["Lone", "field"]
