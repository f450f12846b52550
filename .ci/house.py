"""Counts of what makes a house hard to find one's way in; exits 1 when a count is over its floor.

python .ci/house.py            the counts, each with its floor
python .ci/house.py --names    and what is counted
"""

from __future__ import annotations

import ast
import re
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Final, NamedTuple

ROOT: Final = Path(__file__).resolve().parent.parent
PACKAGE: Final = ROOT / "runner"

# A floor goes down with what was tidied, and up only knowingly: the last time when the electrical model,
# general checks and prompts in breaths were joined; modules imported by one other when quiz and due came,
# whose questions and list serve one command each.
FLOORS: Final = {
    "class names used twice": 0,
    "file names used twice outside command": 0,
    "folders over 16 files outside command": 0,
    "modules under 25 lines with one importer": 1,
    "modules imported by one other": 121,
    "isinstance of an item's body without assert_never": 0,
    "string compares with what an answer says": 0,
    "files with SQL outside logbook": 0,
    "lines of runner": 46_600,
}

_SQL: Final = re.compile(
    r"\b(SELECT .+ FROM|INSERT INTO|UPDATE \w+ SET|DELETE FROM|CREATE TABLE|PRAGMA)\b", re.DOTALL
)
_KINDS: Final = "runner.checklist.kind.kinds"
_MANY_FILES: Final = 16
_FEW_LINES: Final = 25
_CATALOGUE: Final = PACKAGE / "language" / "catalogue.py"
_ANSWERS: Final = ("Outcome", "FlagEnd", "Unit")


class Source(NamedTuple):
    """A module as it is written."""

    tree: ast.Module
    lines: int


Sources = dict[Path, Source]


def sources() -> Sources:
    """Every module of runner by its path, read once."""
    paths = [path for path in sorted(PACKAGE.rglob("*.py")) if "_data" not in path.parts]
    return {path: source_of(path.read_text(encoding="utf-8")) for path in paths}


def source_of(text: str) -> Source:
    """A module of that text."""
    return Source(ast.parse(text), len(text.splitlines()))


def module_name(path: Path) -> str:
    """`runner.core.event` for its file; a package goes by its folder."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def importers(modules: Sources) -> dict[str, set[str]]:
    """Of each module, who imports it; the commands, which `cli` loads by name, by nobody."""
    known = {module_name(path) for path in modules}
    found: dict[str, set[str]] = defaultdict(set)
    for path, (tree, _) in modules.items():
        for name in _imported(tree):
            if name in known and name != module_name(path):
                found[name].add(module_name(path))
    return found


def surfaces() -> dict[str, list[str]]:
    """Of each package under runner, its public modules: those that code of other packages imports."""
    modules = sources()
    users = importers(modules)
    packages = {module_name(path): list[str]() for path in modules if path.name == "__init__.py"}
    for path in modules:
        room, _, name = module_name(path).rpartition(".")
        is_used = any(user.rpartition(".")[0] != room for user in users[module_name(path)])
        if path.name != "__init__.py" and room != PACKAGE.name and is_used:
            packages[room].append(name)
    return packages


def _imported(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        match node:
            case ast.Import(names=names):
                yield from (each.name for each in names)
            case ast.ImportFrom(module=str(module), names=names):
                yield module
                yield from (f"{module}.{each.name}" for each in names)


def _doubled(names: Iterator[str]) -> list[str]:
    return sorted(name for name, count in Counter(names).items() if count > 1)


def _class_names(modules: Sources) -> Iterator[str]:
    for tree, _ in modules.values():
        yield from (node.name for node in ast.walk(tree) if isinstance(node, ast.ClassDef))


def _wide_folders(modules: Sources) -> list[str]:
    files = Counter(path.parent for path in modules if path.name != "__init__.py")
    wide = [folder for folder, count in files.items() if count > _MANY_FILES]
    return [str(folder.relative_to(ROOT)) for folder in wide if folder != PACKAGE / "command"]


def _lone(modules: Sources) -> dict[Path, int]:
    """Modules that exactly one other imports, with their lines; kinds of item have their files anyway."""
    users = importers(modules)
    lone = [path for path in modules if path.name != "__init__.py" and len(users[module_name(path)]) == 1]
    alone = [path for path in lone if _KINDS not in {module_name(path), *users[module_name(path)]}]
    return {path: modules[path].lines for path in alone}


def _bodies(modules: Sources) -> set[str]:
    """The kinds of item: `Body` and every class that is built on it."""
    found: set[str] = set()
    more = {"Body"}
    while more - found:
        found |= more
        more = {name for name, bases in _classes(modules) if bases & found}
    if len(found) < 2:  # noqa: PLR2004 - Body itself and some kind
        raise LookupError("there is no Body any more; say in .ci/house.py what an item's body is")
    return found


def _classes(modules: Sources) -> Iterator[tuple[str, set[str]]]:
    for tree, _ in modules.values():
        for node in ast.walk(tree):
            if isinstance(node, ast.ClassDef):
                yield node.name, {ast.unparse(base) for base in node.bases}


def _unproved_isinstance(modules: Sources) -> list[str]:
    bodies = _bodies(modules)
    return [
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path, (tree, _) in modules.items()
        for function in ast.walk(tree)
        if isinstance(function, ast.FunctionDef) and "assert_never" not in ast.unparse(function)
        for node in ast.walk(function)
        if bodies & _told_apart(node)
    ]


def _told_apart(node: ast.AST) -> set[str]:
    """The classes that `isinstance`, a `case` of a match or a `cast` names here."""
    match node:
        case ast.Call(func=ast.Name(id="isinstance"), args=[_, kinds]) | ast.MatchClass(cls=kinds):
            return {each.id for each in ast.walk(kinds) if isinstance(each, ast.Name)}
        case ast.Call(func=ast.Name(id="cast"), args=[ast.Constant(value=str(kind)), _]):
            return {kind}
        case _:
            return set()


def _answer_compares(modules: Sources) -> list[str]:
    """Where the text of an answer, or a constant of such a text, is compared instead of a catalogue's row."""
    stored = _answers(modules)
    return [
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path, (tree, _) in modules.items()
        for node in ast.walk(tree)
        if isinstance(node, ast.Compare)
        and (stored & _compared_texts(node) or {"PULLED", "STUCK"} & set(_names(node)))
    ]


def _answers(modules: Sources) -> set[str]:
    """What the rows of the catalogue store: outcomes, ends of a flag, units."""
    rows = [
        row.value
        for node in modules[_CATALOGUE].tree.body
        if isinstance(node, ast.ClassDef) and node.name in _ANSWERS
        for row in node.body
        if isinstance(row, ast.Assign)
    ]
    firsts = [row.elts[0] if isinstance(row, ast.Tuple) else row for row in rows]
    return {
        first.value for first in firsts if isinstance(first, ast.Constant) and isinstance(first.value, str)
    }


def _compared_texts(node: ast.Compare) -> set[str]:
    """Texts that something is equal to or among; a text that is looked for in a mapping is none."""
    sides = node.comparators if isinstance(node.ops[0], (ast.In, ast.NotIn)) else [node]
    texts = (each.value for side in sides for each in ast.walk(side) if isinstance(each, ast.Constant))
    return {text for text in texts if isinstance(text, str)}


def _names(node: ast.Compare) -> Iterator[str]:
    """Bare names in a comparison."""
    return (each.id for each in ast.walk(node) if isinstance(each, ast.Name))


def _sql_elsewhere(modules: Sources) -> list[str]:
    return [
        str(path.relative_to(ROOT))
        for path, (tree, _) in modules.items()
        if "logbook" not in path.parts
        if any(
            isinstance(node, ast.Constant) and isinstance(node.value, str) and _SQL.search(node.value)
            for node in ast.walk(tree)
        )
    ]


def counted(modules: Sources) -> dict[str, list[str]]:
    """Each count with what is counted; the lines of runner are named by their file."""
    lone = _lone(modules)
    rooms = [path for path in modules if path.name != "__init__.py" and path.parent != PACKAGE / "command"]
    return {
        "class names used twice": _doubled(_class_names(modules)),
        "file names used twice outside command": _doubled(path.name for path in rooms),
        "folders over 16 files outside command": _wide_folders(modules),
        "modules under 25 lines with one importer": [
            f"{module_name(path)} ({lines})" for path, lines in lone.items() if lines < _FEW_LINES
        ],
        "modules imported by one other": [module_name(path) for path in lone],
        "isinstance of an item's body without assert_never": _unproved_isinstance(modules),
        "string compares with what an answer says": _answer_compares(modules),
        "files with SQL outside logbook": _sql_elsewhere(modules),
        "lines of runner": [str(path) for path, (_, lines) in modules.items() for _ in range(lines)],
    }


def main() -> int:
    """Print each count with its floor, and say by the exit code whether all hold."""
    over = 0
    for what, names in counted(sources()).items():
        is_over = len(names) > FLOORS[what]
        over += is_over
        print(f"{len(names):6}  of {FLOORS[what]:6}  {what}{'  OVER' if is_over else ''}")
        if "--names" in sys.argv and what != "lines of runner":
            print("".join(f"          {name}\n" for name in names), end="")
    return int(over > 0)


if __name__ == "__main__":
    sys.exit(main())
