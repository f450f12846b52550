"""DEVELOPERS.md sends a newcomer to files that are there, and to the names that it says are in them."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
_TO_ADD = TEXT.partition("## To add")[2].partition("\n## ")[0]
RECIPES = dict(re.findall(r"^- \*\*(.+?)\*\*: (.+)$", _TO_ADD, re.MULTILINE))
FILE = re.compile(r"`([\w./-]+\.(?:py|json|md))`")
NAMED = re.compile(r"`([A-Za-z_]+)`(?: with its option)? (?:of|in) `([\w./-]+\.py)`")


def _path(name: str) -> Path:
    """A path from the root, or from `runner`."""
    return next((path for path in (ROOT / name, ROOT / "runner" / name) if path.exists()), ROOT / name)


def _files(text: str) -> list[str]:
    return [name for name in FILE.findall(text) if "/" in name or name in ("cli.py", "README.md")]


def test_there_is_a_recipe_for_whatever_grows() -> None:
    """Units, words, events, entries, commands, forms, ears and voices."""
    wanted = {"a kind of item", "a unit", "a standard word", "an event", "an entry", "a command"}
    assert wanted | {"a form of report", "an ear", "a voice"} <= set(RECIPES)


@pytest.mark.parametrize("what", RECIPES)
def test_the_files_and_names_of_a_recipe_exist(what: str) -> None:
    """Nobody is sent to a file that has moved, or for a name that is called otherwise now."""
    recipe = RECIPES[what]
    assert [name for name in _files(recipe) if not _path(name).is_file()] == []
    for name, file in NAMED.findall(recipe):
        assert re.search(rf"\b{name}\b", _path(file).read_text(encoding="utf-8")), f"{name} in {file}"


def test_every_file_that_is_named_anywhere_exists() -> None:
    """In the reading order, the flow, the invariants and the rest; the map is generated."""
    text = re.sub(r"<!-- generated.*?<!-- end -->", "", TEXT, flags=re.DOTALL)
    missing = [name for name in _files(text) if not _path(name).is_file()]
    assert missing == []


def test_the_reading_order_comes_first_and_has_ten_files() -> None:
    """Ten files and a drawing, before the map."""
    before = TEXT.partition("## Map")[0].partition("## Ten files")[2]
    listed = re.findall(r"^\d+\. `(runner/[\w/]+\.py)`", before, re.MULTILINE)
    assert len(listed) == 10
    assert [name for name in listed if not (ROOT / name).is_file()] == []
    assert "Machine.handle" in before
