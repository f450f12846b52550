from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from runner import document
from runner.checklist.format.check_load import parse_check
from runner.document import Node, parse_document
from runner.errors import FileError
from tests.checklist.test_any_text import LINES, SCRAPS

HERE = Path(__file__).parent
PATH = Path("x.yaml")
GOOD = (HERE / "good.yaml").read_text(encoding="utf-8")
MISTAKES: dict[str, dict[str, str]] = yaml.load(
    (HERE / "mistakes.yaml").read_text(encoding="utf-8"),
    yaml.BaseLoader,  # noqa: S506 - makes strings, lists and mappings only
)


def refusal(words: str) -> str:
    """Place and message of what is wrong with a check; empty when nothing is."""
    try:
        parse_check(words, PATH)
    except FileError as error:
        return str(error)
    return ""


def tree(words: str) -> Node | str:
    """Every value with its place, or why there is none."""
    try:
        return parse_document(words, PATH)
    except FileError as error:
        return str(error)


def both(words: str) -> tuple[Node | str, Node | str]:
    """With libyaml and without."""
    with pytest.MonkeyPatch.context() as patch:
        fast = tree(words)
        patch.setattr(document, "FAST", yaml.BaseLoader)
        return fast, tree(words)


def test_libyaml_reads_where_it_is_there() -> None:
    """PyYAML tells whether it was built with it."""
    assert (document.FAST is not yaml.BaseLoader) == yaml.__with_libyaml__


@pytest.mark.parametrize("mistake", MISTAKES.values(), ids=MISTAKES.keys())
def test_a_mistake_has_one_place_and_message_with_either_loader(
    mistake: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """An author is told the same on a computer without libyaml."""
    spoiled = GOOD.replace(mistake["old"], mistake["new"]).replace("§", "")
    fast = refusal(spoiled)
    monkeypatch.setattr(document, "FAST", yaml.BaseLoader)
    assert fast
    assert fast == refusal(spoiled)


@pytest.mark.parametrize(
    "words",
    [
        'a: "\\q"\n',
        "a: @x\n",
        "%x\na: 1",
        "ä: [ü, \x07]\n",
        "b: 😀: c\n",
        "a: x\x85y\nb: c: d\n",
        "a: \ud800x\n",
        "- a\nb: c\n",
        "a: |\n  x\n y\n",
        "[" * 5000,
        "[" * 5000 + "]" * 5000,
        "- " * 5000 + "x",
    ],
)
def test_what_is_no_yaml_is_refused_alike(words: str) -> None:
    """Where the two disagree about the place or the words of a fault, PyYAML's own are told."""
    fast, slow = both(words)
    assert isinstance(fast, str)
    assert fast == slow


def test_shipped_files_are_read_alike() -> None:
    """Every value at its line and column, in files of some hundred lines."""
    files = sorted((HERE.parents[1] / "checklists").rglob("*.yaml"))
    assert len(files) >= 4
    for file in files:
        fast, slow = both(file.read_text(encoding="utf-8"))
        assert isinstance(fast, Node)
        assert fast == slow


@settings(max_examples=300)
@given(st.text(st.characters(codec="utf-8"), max_size=60), st.integers(0, 10_000))
def test_any_text_in_a_check_is_read_alike(scrap: str, at: int) -> None:
    """Whatever is typed into a good check, in any script."""
    at %= len(GOOD)
    fast, slow = both(GOOD[:at] + scrap + GOOD[at:])
    assert fast == slow


@settings(max_examples=300)
@given(st.lists(st.sampled_from((*LINES[:40], *SCRAPS)), max_size=12), st.sampled_from(("", "  ", "\t")))
def test_any_lines_are_read_alike(lines: list[str], indent: str) -> None:
    """Lines of a check and scraps of YAML in any order."""
    fast, slow = both(f"\n{indent}".join(lines))
    assert fast == slow
