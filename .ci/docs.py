"""Writes what is generated; `--check` only compares.

That is the parts of the documents between their markers, and in each package of runner/ the line that names
its public modules: those that code of other packages imports.
"""

from __future__ import annotations

import ast
import contextlib
import io
import re
import sys
import textwrap
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

import house  # noqa: E402 - beside this script

from runner import cli  # noqa: E402 - the path comes first
from runner.core.grid.drawing import render_table  # noqa: E402 - the path comes first
from runner.language.catalogue import Word  # noqa: E402 - the path comes first

DOCUMENTS = ("README.md", "DEVELOPERS.md")
_MARKED = re.compile(r"(<!-- generated: (?P<name>[a-z]+) -->\n).*?(<!-- end -->)", re.DOTALL)


def module_map() -> str:
    """One line per module of runner/: its path and the first sentence of its docstring."""
    lines = ["| module | what it is for |", "| --- | --- |"]
    for path in sorted((ROOT / "runner").rglob("*.py")):
        if "_data" in path.parts:
            continue
        text = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
        sentence = " ".join(text.split("\n\n")[0].split())
        lines.append(f"| `{path.relative_to(ROOT / 'runner')}` | {sentence.replace('|', '&#124;')} |")
    return "\n".join(lines) + "\n"


def command_list() -> str:
    """What `eyesout` prints without a command."""
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        cli.main(["--help"])
    return f"```text\n{printed.getvalue()}```\n"


def word_list() -> str:
    """The standard words with their other ways to be said, their keys and what they do."""
    lines = ["| say | key | what it does |", "| --- | --- | --- |"]
    for word in Word:
        key = f"`{word.key}`" if word.key else ""
        lines.append(f"| {', '.join(word.phrases)} | {key} | {word.effect} |")
    return "\n".join(lines) + "\n"


def with_surface(text: str, public: list[str]) -> str:
    """The text of a package's `__init__.py` with its public modules named."""
    first = (ast.get_docstring(ast.parse(text)) or "").split("\n\n")[0]
    if not public:
        return f'"""{first}"""\n'
    names = ", ".join(f"`{name}`" for name in sorted(public))
    lines = textwrap.fill(f"Public: {names}.", 110, break_on_hyphens=False)
    return f'"""{first}\n\n{lines}\n"""\n'


def documents() -> dict[Path, str]:
    """Every file that has a generated part, as it should be."""
    found = {
        ROOT / name: with_generated_parts((ROOT / name).read_text(encoding="utf-8")) for name in DOCUMENTS
    }
    for package, public in house.surfaces().items():
        path = ROOT.joinpath(*package.split("."), "__init__.py")
        found[path] = with_surface(path.read_text(encoding="utf-8"), public)
    return found


def with_generated_parts(text: str) -> str:
    """The document with every marked part made anew."""
    makers = {"map": module_map, "table": render_table, "commands": command_list, "words": word_list}

    def fill(match: re.Match[str]) -> str:
        return f"{match[1]}{makers[match['name']]().rstrip()}\n{match[3]}"

    return _MARKED.sub(fill, text)


def main() -> int:
    """Rewrite, or with `--check` report, the documents that are out of date."""
    stale = []
    for path, fresh in documents().items():
        if fresh != path.read_text(encoding="utf-8"):
            stale.append(str(path.relative_to(ROOT)))
            if "--check" not in sys.argv:
                path.write_text(fresh, encoding="utf-8")
    print(f"out of date: {', '.join(stale)}" if stale else "up to date")
    return int(bool(stale) and "--check" in sys.argv)


if __name__ == "__main__":
    sys.exit(main())
