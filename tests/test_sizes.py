"""The size budget of the package: small files, small functions."""

import ast
import statistics
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent / "runner"
MODULES = [path for path in sorted(PACKAGE.rglob("*.py")) if "_data" not in path.parts]


def _lines(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


def _function_lengths(path: Path) -> list[tuple[int, str]]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [
        ((node.end_lineno or node.lineno) - node.lineno + 1, f"{path}:{node.name}")
        for node in ast.walk(tree)
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))
    ]


def test_files_keep_to_the_budget() -> None:
    """Median 120 lines or less, nine of ten 300 or less, none above 400."""
    lengths = sorted(_lines(path) for path in MODULES)
    assert statistics.median(lengths) <= 120
    assert lengths[int(len(lengths) * 0.9)] <= 300
    assert [str(path) for path in MODULES if _lines(path) > 400] == []


def test_functions_keep_to_the_budget() -> None:
    """Nine of ten functions have 30 lines or less, none has more than 60."""
    lengths = sorted(length for path in MODULES for length in _function_lengths(path))
    assert lengths[int(len(lengths) * 0.9)][0] <= 30
    assert [name for length, name in lengths if length > 60] == []


def test_each_module_says_what_it_is_for() -> None:
    """Each module opens with a sentence."""
    missing = [
        str(path) for path in MODULES if not ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))
    ]
    assert missing == []
