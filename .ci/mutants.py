#!/usr/bin/env python3
"""Do the tests notice? Changes one place of runner/ at a time and runs the tests that reach it.

    python .ci/mutants.py                          288 mutants of all of runner/, seed 1
    python .ci/mutants.py --count 40 --seed 7 runner/core runner/language

Works in a copy of the tree. First it runs all tests once and notes which of them reach which line; with
`--map FOLDER` that is kept and used again. A mutant is killed when one of those tests fails, and undecided
when they are not through in `--seconds`. The same tree, seed and places give the same mutants.
"""

import argparse
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import coverage
from mutator import Mutant, mutants

ROOT = Path(__file__).resolve().parents[1]
LEFT_OUT = shutil.ignore_patterns(".git", ".venv", "__pycache__", ".*_cache", ".hypothesis", "dist")
PYTEST = ("-m", "pytest", "-q", "-p", "no:cacheprovider", "--hypothesis-seed=1")
QUICK = ("-m", "not live and not browser")
MAP_SETTINGS = "[run]\nbranch = true\nsource_pkgs = runner\ndynamic_context = test_function\n"


@dataclass(frozen=True, slots=True)
class Target:
    """A mutant with its module, a path from the root of the tree."""

    module: Path
    mutant: Mutant

    def __str__(self) -> str:
        return f"{self.module}:{self.mutant.line} {self.mutant.what}: {' '.join(self.mutant.text.split())}"


class Reach:
    """Which tests reach a line, from the contexts of one run of all of them."""

    def __init__(self, tree: Path, drawn: Path) -> None:
        self._data = coverage.CoverageData(basename=str(drawn))
        self._data.read()
        self._known = _listed_tests(tree)

    def tests(self, target: Target) -> list[str]:
        """Test functions that reach the line, those of the module's own test file first.

        Where a line runs on import or in a thread no test is named for it: then all that reach the module.
        """
        name = f"/{target.module.as_posix()}"
        file = next(
            (file for file in self._data.measured_files() if Path(file).as_posix().endswith(name)), ""
        )
        contexts = self._data.contexts_by_lineno(file)
        here = set(contexts.get(target.mutant.line, ()))
        if here == {""}:
            here = {context for line in contexts.values() for context in line}
        own = f"tests/{target.module.parent.relative_to('runner')}/test_{target.module.stem}.py::"
        nodes = {node for context in here for node in self._nodes(context)}
        nodes |= {node for node in self._known if node.startswith(own)}
        return sorted(nodes, key=lambda node: (not node.startswith(own), node))

    def _nodes(self, context: str) -> Iterator[str]:
        """The context `tests.core.grid.test_word.test_x` as pytest names it."""
        module, _, name = context.rpartition(".")
        node = f"{module.replace('.', '/')}.py::{name}"
        if node in self._known:
            yield node


def _listed_tests(tree: Path) -> set[str]:
    """Every test function there is, without its parameters."""
    listed = _run(tree, [*PYTEST, *QUICK, "--collect-only"]).stdout.decode()
    return {line.partition("[")[0] for line in listed.splitlines() if "::" in line}


def copy_of(root: Path, folder: Path) -> Path:
    """The tree as it is on disk, without history and caches, compiled."""
    tree = folder / "tree"
    shutil.copytree(root, tree, ignore=LEFT_OUT)
    subprocess.run([sys.executable, "-m", "compileall", "-q", tree / "runner", tree / "tests"], check=True)
    return tree


def draw_map(tree: Path, folder: Path) -> Path:
    """Run all quick tests once under coverage, unless the folder has a map from before."""
    drawn, settings = folder / "map.coverage", folder / "map.ini"
    if not drawn.exists():
        folder.mkdir(parents=True, exist_ok=True)
        settings.write_text(MAP_SETTINGS, encoding="utf-8")
        measured = ["-m", "coverage", "run", f"--rcfile={settings}", f"--data-file={drawn}"]
        done = _run(tree, [*measured, *PYTEST, *QUICK])
        if done.returncode:
            sys.exit(f"the tests fail without any mutant:\n{done.stdout.decode()[-2000:]}")
    return drawn


def end_of(tree: Path, target: Target, tests: list[str], seconds: float) -> str:
    """What becomes of a mutant that stands in the tree while these tests run, in a word."""
    if not tests:
        return "UNREACHED"
    module = tree / target.module
    whole = module.read_bytes()
    for stale in module.parent.glob(f"__pycache__/{module.stem}.*.pyc"):
        stale.unlink()
    asked = tree / "asked.txt"
    asked.write_text("\n".join(tests), encoding="utf-8")
    module.write_bytes(target.mutant.of(whole))
    try:
        ended = _run(tree, [*PYTEST, "-x", "--timeout=30", *QUICK, f"@{asked}"], seconds)
    except subprocess.TimeoutExpired:
        return "UNDECIDED"
    finally:
        module.write_bytes(whole)
    return "killed" if ended.returncode else "SURVIVED"


def _run(tree: Path, words: list[str], seconds: float | None = None) -> subprocess.CompletedProcess[bytes]:
    surroundings = os.environ | {
        "PYTHONPATH": str(tree),
        "PYTHONDONTWRITEBYTECODE": "1",
        "OMP_NUM_THREADS": "1",
    }
    return subprocess.run(
        [sys.executable, *words],
        cwd=tree,
        env=surroundings,
        timeout=seconds,
        capture_output=True,
        check=False,
    )


def drawn_targets(tree: Path, places: list[str], count: int, seed: int) -> list[Target]:
    """A seeded choice among all mutants of the modules in these places."""
    modules = sorted({path for place in places for path in _modules(tree / place)})
    every = [
        Target(path.relative_to(tree), mutant) for path in modules for mutant in mutants(path.read_bytes())
    ]
    print(f"{len(every)} mutants in {len(modules)} modules; {min(count, len(every))} drawn with seed {seed}")
    return random.Random(seed).sample(every, min(count, len(every)))


def _modules(place: Path) -> list[Path]:
    return [place] if place.is_file() else [path for path in place.rglob("*.py") if "_data" not in path.parts]


def main() -> int:
    """Print each mutant with its end, then those that no test noticed."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("places", nargs="*", default=["runner"], help="modules or folders (default: runner)")
    parser.add_argument("--count", type=int, default=288)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=60.0, help="time for the tests of one mutant")
    parser.add_argument("--map", type=Path, help="folder that keeps which test reaches which line")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="eyesout-mutants-") as folder:
        tree = copy_of(ROOT, Path(folder))
        reach = Reach(tree, draw_map(tree, given.map or Path(folder)))
        began, survivors = time.monotonic(), []
        targets = drawn_targets(tree, given.places, given.count, given.seed)
        for number, target in enumerate(targets, 1):
            tests = reach.tests(target)
            word = end_of(tree, target, tests, given.seconds)
            print(f"{number:4} {word:9} {target}  [{len(tests)} tests]", flush=True)
            survivors += [] if word == "killed" else [f"{word} {target}"]
    print(f"\n{len(targets) - len(survivors)} of {len(targets)} killed in {time.monotonic() - began:.0f} s")
    print("\n".join(sorted(survivors)))
    return 0


if __name__ == "__main__":
    sys.exit(main())
