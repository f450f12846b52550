"""The mutation run's own part: what it changes in a module."""

import ast
import importlib.util
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parent.parent


def _mutator() -> Any:
    spec = importlib.util.spec_from_file_location("mutator", ROOT / ".ci" / "mutator.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


MUTANTS = _mutator().mutants


@pytest.mark.parametrize(
    ("text", "changed"),
    [
        ("x = a < b", {"x = (a <= b)"}),
        ("x = a == b", {"x = (a != b)"}),
        ("x = a and b", {"x = (a or b)"}),
        ("x = not a", {"x = (a)"}),
        ("x = a * b", {"x = (a / b)"}),
        ("x: int | None = 3", {"x: int | None = 4"}),
        ("x = 0.0", {"x = 1.0"}),
        ("x = True", {"x = False"}),
        ("x = min(a)", {"x = max(a)"}),
        ("x = a if b else c", {"x = a if (not (b)) else c"}),
        ("say(a)", {"pass"}),
        ("def f(): return a", {"def f(): return None"}),
        ("for a in b: break", {"for a in b: continue"}),
        ("def f() -> 'a < b': return None", set()),
        ("'''A text of 3.'''", set()),
        ("x = f'{a < b}'", set()),
        ("x = zip(a, b, strict=True)", set()),
        ("é = 'é', a < b", {"é = 'é', (a <= b)"}),
    ],
)
def test_each_change_is_the_one_meant(text: str, changed: set[str]) -> None:
    """One place, nothing else, whatever stands before it."""
    source = text.encode()
    assert {mutant.of(source).decode() for mutant in MUTANTS(source)} == changed


def test_every_mutant_of_a_module_can_be_read_and_differs() -> None:
    """Also where an expression runs over lines."""
    source = (ROOT / "runner" / "core" / "record" / "spin_up_clock.py").read_bytes()
    found = [mutant.of(source) for mutant in MUTANTS(source)]
    assert len(found) > 20
    assert source not in found
    assert all(ast.parse(text) for text in found)
