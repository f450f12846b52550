"""Names that runner/ defines and nothing but tests uses; exits 1 when there is one that has no reason to be.

A name counts as used where any code or page template of runner/ reads it, whatever it belongs to: two things
of one name hide one another, so that what is listed is dead, and what is not listed may be.
"""

from __future__ import annotations

import ast
import re
import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parent.parent
PACKAGE: Final = ROOT / "runner"

# What is called from outside of runner/, with who calls it.
KEPT: Final = {
    "render_table": ".ci/docs.py draws the table of transitions by it",
    "write_history": "the benchmarks' and the tests' years of invented runs",
    "get_blocks": "the benchmarks cut recordings by it, as a microphone would",
    "OUTPUTS": "models/train shapes the network by it",
    "tau": "the JSON of a trend has it, as all of its test's figures",
    "is_ended": "the golden records hold the summary of every state",
    "unanswered": "the golden records hold the summary of every state",
}
# Classes whose methods and fields a library calls by their names.
LIBRARY_BASES: Final = frozenset(
    ("App", "Widget", "Static", "Vertical", "Container", "FPDF", "Enum", "StrEnum", "IntEnum")
)
# A file that pyttsx3 loads as a driver, whose functions it calls by their names.
DRIVERS: Final = frozenset({"heart_driver.py"})


@dataclass(frozen=True)
class Definition:
    """A name where it is made; `is_value` where making it also reads as a name."""

    name: str
    path: Path
    line: int
    is_value: bool = False


def dead_names() -> list[str]:
    """`runner/...:line: name` of each."""
    uses: Counter[str] = Counter()
    made: list[Definition] = []
    for path in _modules():
        tree = ast.parse(path.read_text(encoding="utf-8"))
        uses.update(_used(tree))
        if path.name not in DRIVERS:
            made += made_in(tree, path)
    for page in PACKAGE.rglob("*.html"):
        uses.update(re.findall(r"\w+", page.read_text(encoding="utf-8")))
    return [
        f"{each.path.relative_to(ROOT)}:{each.line}: {each.name}"
        for each in dead_in(made, uses)
        if each.name not in KEPT
    ]


def dead_in(made: list[Definition], uses: Mapping[str, int]) -> list[Definition]:
    """Those that nothing reads; to make a field or a constant is one use of its name."""
    values = Counter(each.name for each in made if each.is_value)
    return [each for each in made if uses.get(each.name, 0) <= values[each.name] and each.name[:2] != "__"]


def _modules() -> list[Path]:
    return [path for path in sorted(PACKAGE.rglob("*.py")) if "_data" not in path.parts]


def _used(tree: ast.AST) -> Iterator[str]:
    """Names that are read or written; a function's name in its own definition is neither."""
    for node in ast.walk(tree):
        match node:
            case ast.Name(id=name) | ast.Attribute(attr=name):
                yield name
            case ast.MatchClass(kwd_attrs=names):
                yield from names
            case ast.Constant(value=str(text)) if text.isidentifier():
                yield text
            case ast.Constant(value=str(text)) if "import " in text:
                yield from re.findall(r"\w+", text)


def made_in(node: ast.AST, path: Path) -> Iterator[Definition]:
    """What a module or a class defines, and what the classes in it do."""
    for child in ast.iter_child_nodes(node):
        match child:
            case ast.FunctionDef() | ast.AsyncFunctionDef() | ast.ClassDef():
                yield Definition(child.name, path, child.lineno)
            case ast.AnnAssign(target=ast.Name(id=name)) | ast.Assign(targets=[ast.Name(id=name)]):
                yield Definition(name, path, child.lineno, is_value=True)
        if _is_open(child):
            yield from made_in(child, path)


def _is_open(node: ast.AST) -> bool:
    """Whether names inside belong to us: neither a function's own nor what a library calls."""
    if isinstance(node, ast.ClassDef):
        return not {ast.unparse(each).split("[")[0] for each in node.bases} & LIBRARY_BASES
    return isinstance(node, (ast.If, ast.Try, ast.With))


def main() -> int:
    """Print each dead name."""
    found = dead_names()
    print("\n".join(found) if found else "nothing is dead")
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main())
