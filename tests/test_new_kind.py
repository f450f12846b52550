"""The recipe for a kind of item, followed literally in a copy of the tree, and the whole flow run with it."""

import csv
import filecmp
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tests.checklist.test_schema import strings
from tests.recipe_copy import COPIED, Copy
from tests.test_recipes import RECIPES, ROOT

HERE = ROOT / "tests" / "new_kind"
CHECK = HERE / "oxygen.yaml"
KIND = Path("runner/checklist/kind/level.py")
REGISTRY = Path("runner/checklist/kind/kinds.py")
SCHEMA = Path("checklists/schema/check.schema.json")


def _add_to_registry(path: Path) -> None:
    """Its import and its place, as any other's."""
    text = path.read_text(encoding="utf-8")
    text = text.replace("import Choice\n", "import Choice\nfrom runner.checklist.kind.level import Level\n")
    path.write_text(text.replace("Choice, Call)", "Choice, Call, Level)"), encoding="utf-8")


def _add_to_schema(path: Path) -> None:
    """Its key, and that an item may be one."""
    schema = json.loads(path.read_text(encoding="utf-8"))
    item = schema["$defs"]["item"]
    item["properties"]["level"] = {"$ref": "#/$defs/decimal", "description": "Percent, at least."}
    item["oneOf"].append({"required": ["level"]})
    path.write_text(json.dumps(schema, indent=2), encoding="utf-8")


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the tree with one more kind of item."""
    copy = Copy.into(tmp_path_factory.mktemp("kind")).root
    shutil.copy(HERE / "level.py", copy / KIND)
    _add_to_registry(copy / REGISTRY)
    _add_to_schema(copy / SCHEMA)
    return copy


@pytest.fixture(scope="module")
def book(tree: Path) -> Path:
    """Where its run is recorded and reported."""
    return tree / "book"


@pytest.fixture(scope="module")
def flow(tree: Path, book: Path) -> dict[str, Any]:
    """What came of each step; the copy is run by itself."""
    command = [sys.executable, str(HERE / "flow.py"), str(CHECK), str(book)]
    environment = {**os.environ, "PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"}
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=tree, env=environment)
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def _changed(tree: Path) -> set[Path]:
    """Files of the copy that the tree does not have, or has otherwise."""
    found = (path for name in COPIED for path in (tree / name).rglob("*") if path.is_file())
    files = {path.relative_to(tree) for path in found if "__pycache__" not in path.parts}
    return {
        file
        for file in files
        if not (ROOT / file).is_file() or not filecmp.cmp(tree / file, ROOT / file, shallow=False)
    }


def test_a_new_kind_touches_three_files(tree: Path) -> None:
    """Its own, the registry and the schema, and the recipe names the two that are there already."""
    assert _changed(tree) == {KIND, REGISTRY, SCHEMA}
    recipe = RECIPES["a kind of item"]
    assert all(f"`{name}`" in recipe for name in ("checklist/kind", "checklist/kind/kinds.py", str(SCHEMA)))


def test_an_editor_and_the_loader_know_it(tree: Path, flow: dict[str, Any]) -> None:
    """The schema takes the check, the loader makes the kind's own class of the item."""
    schema = json.loads((tree / SCHEMA).read_text(encoding="utf-8"))
    validator = Draft202012Validator(schema)
    document = strings(CHECK.read_text(encoding="utf-8"))
    assert [error.message for error in validator.iter_errors(document)] == []
    assert flow["loaded"] == "Level"


def test_the_lint_has_nothing_against_it(flow: dict[str, Any]) -> None:
    """Its phrases clash with none, and nothing in it is questionable."""
    assert flow["linted"][0] == 0
    assert "0 errors, 0 warnings, 0 pieces of advice" in flow["linted"][1]


def test_it_is_asked_and_read_back(flow: dict[str, Any]) -> None:
    """Digit by digit (ICAO Annex 10 Vol II 5.2.1.4.1, from memory), in question where it is a squawk."""
    assert {"Oxygen, how full.", "Seven five percent.", "Squawk, three five percent."} <= set(flow["prompts"])
    assert flow["spoken"] == [
        "Three five percent is a squawk. Affirm or negative.",
        "Squawk, three five percent. Baggage door.",
    ]


def test_the_first_screen_shows_it_and_takes_its_digits(flow: dict[str, Any]) -> None:
    """With the kind's name, the unit, and the number that enter gives."""
    assert flow["shown"]["kind"] == "level"
    assert "Bottle · level" in flow["shown"]["words"]
    assert flow["shown"]["keyed"] == "75 percent"


def test_a_run_by_keys_is_stopped_gone_on_with_and_whole(flow: dict[str, Any]) -> None:
    """Left while the value was in question, it comes back with that question, and the record verifies."""
    assert flow["stopped"][0] == 1
    assert "> 35 percent is a squawk: confirm?" in flow["resumed"][1]
    assert flow["resumed"][0] == 0
    assert flow["verified"] == [0, "1 of 1 records whole, 9 lines read\n"]


def test_reports_tell_what_was_expected_and_what_came(flow: dict[str, Any], book: Path) -> None:
    """On the page, in the row of the CSV and in the JSON; the figures are the kind's own."""
    assert [code for code, _ in flow["reported"]] == [0, 0, 0]
    page = (book / "run.html").read_text(encoding="utf-8")
    assert "40 percent or more" in page
    assert "35 percent" in page
    rows = csv.DictReader((book / "run.csv").read_text(encoding="utf-8").splitlines())
    (row,) = [row for row in rows if row["item"] == "oxygen"]
    wanted = {"expected": "40 percent or more", "low": "40", "high": "100", "value": "35"}
    assert {name: row[name] for name in wanted} == wanted
    assert (row["unit"], row["outcome"], row["advise_s"]) == ("percent", "squawk", "")
    document = json.loads((book / "run.json").read_text(encoding="utf-8"))
    expected = {"words": "40 percent or more", "unit": "percent", "pass": [40.0, 100.0]}
    assert document["items"][0]["expected"] == expected
