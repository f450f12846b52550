import json
import re
from itertools import product
from pathlib import Path
from string import ascii_uppercase
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from runner.checklist.format.check_load import CHECK_OPTIONAL, CHECK_REQUIRED, SECTION_KEYS
from runner.checklist.format.item import ITEM_OPTIONAL, ITEM_REQUIRED
from runner.checklist.format.named_answer import ANSWER_KEYS
from runner.checklist.format.pronounce import CONSONANTS, VOWELS
from runner.checklist.format.scope import CONDITION_KEYS
from runner.checklist.kind.dead import DEAD_KEYS
from runner.checklist.kind.kinds import KINDS
from runner.checklist.kind.partial import PARTIAL_KEYS
from runner.checklist.kind.reading import READING_OPTIONAL, READING_REQUIRED
from runner.checklist.kind.spin_up import SPIN_UP_OPTIONAL, SPIN_UP_REQUIRED
from runner.language.catalogue import Outcome, Unit
from tests.checklist.shipped import CHECKS, FOLDER

SCHEMA: dict[str, Any] = json.loads((FOLDER / "schema" / "check.schema.json").read_text(encoding="utf-8"))
VALIDATOR = Draft202012Validator(SCHEMA)
HERE = Path(__file__).parent
GOOD = (HERE / "good.yaml").read_text(encoding="utf-8")


class EditorLoader(yaml.SafeLoader):
    """YAML 1.2 (core schema) as an editor reads it: only true, false and numbers are no strings."""


EditorLoader.yaml_implicit_resolvers = {}
EditorLoader.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("true|false"), ["t", "f"])
EditorLoader.add_implicit_resolver("tag:yaml.org,2002:int", re.compile("[0-9]+$"), list("0123456789"))
EditorLoader.add_implicit_resolver(
    "tag:yaml.org,2002:float", re.compile(r"[0-9]+\.[0-9]+$"), list("0123456789")
)


def strings(text: str) -> Any:
    """The document as the loader reads it: strings, lists and mappings."""
    return yaml.load(text, yaml.BaseLoader)  # noqa: S506 - makes strings, lists and mappings only


def test_the_schema_is_one() -> None:
    """Valid JSON Schema, draft 2020-12."""
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("path", CHECKS, ids=lambda path: path.stem)
def test_shipped_checks_fit_the_schema(path: Path) -> None:
    """Read as strings, and as an editor reads them."""
    text = path.read_text(encoding="utf-8")
    assert [error.message for error in VALIDATOR.iter_errors(strings(text))] == []
    assert [error.message for error in VALIDATOR.iter_errors(yaml.load(text, EditorLoader))] == []  # noqa: S506


def test_the_good_file_fits_the_schema() -> None:
    """So do all the short forms that the loader takes."""
    assert [error.message for error in VALIDATOR.iter_errors(strings(GOOD))] == []


KEYS = {
    "check": (SCHEMA, CHECK_REQUIRED, CHECK_OPTIONAL),
    "section": (SCHEMA["$defs"]["section"], SECTION_KEYS, ()),
    "item": (SCHEMA["$defs"]["item"], ITEM_REQUIRED, ITEM_OPTIONAL),
    "condition": (SCHEMA["$defs"]["condition"], CONDITION_KEYS, ()),
    "reading": (SCHEMA["$defs"]["reading"], READING_REQUIRED, READING_OPTIONAL),
    "spin_up": (SCHEMA["$defs"]["spin_up"], SPIN_UP_REQUIRED, SPIN_UP_OPTIONAL),
    "dead": (SCHEMA["$defs"]["dead"], *DEAD_KEYS),
    "partial": (SCHEMA["$defs"]["partial"], *PARTIAL_KEYS),
    "answer": (SCHEMA["$defs"]["answer"]["oneOf"][1], (), ANSWER_KEYS),
}


@pytest.mark.parametrize(("part", "required", "optional"), KEYS.values(), ids=KEYS.keys())
def test_schema_and_loader_agree_on_keys(
    part: dict[str, Any], required: tuple[str, ...], optional: tuple[str, ...]
) -> None:
    """The same keys, the same ones required, and no others let through."""
    assert set(part["properties"]) == {*required, *optional}
    assert set(part.get("required", ())) == set(required)
    assert part["additionalProperties"] is False


def test_schema_and_loader_agree_on_words() -> None:
    """Kinds, units and outcomes."""
    assert [kind["required"] for kind in SCHEMA["$defs"]["item"]["oneOf"]] == [[kind] for kind in KINDS]
    assert SCHEMA["$defs"]["reading"]["properties"]["unit"]["enum"] == list(Unit)
    assert SCHEMA["$defs"]["outcome"]["enum"] == list(Outcome)


def test_schema_and_loader_agree_on_phones() -> None:
    """Of all symbols of one or two capitals, the 39 phones of the CMU dictionary."""
    pattern = re.compile(SCHEMA["$defs"]["phones"]["pattern"])
    symbols = [*ascii_uppercase, *(one + other for one, other in product(ascii_uppercase, repeat=2))]
    assert {symbol for symbol in symbols if pattern.search(symbol)} == VOWELS | CONSONANTS


SEEN_BY_AN_EDITOR = (
    *("unknown key", "no airplane", "empty title", "no cautions", "no items", "section without title"),
    *("item without name", "item is words", "unknown item key", "no kind", "two kinds", "flag is no flag"),
    *("band with a dash", "unknown unit", "no resolution", "resolution is words", "unknown outcome"),
    *(
        "key is no letter",
        "unknown answer key",
        "answer listed twice",
        "digit in a phrase",
        "sign in a phrase",
    ),
    *("phrase of signs", "no load", "load twice", "time without unit", "phrase twice", "selects by a state"),
    *("stressed consonant", "two words"),
)


@pytest.mark.parametrize("name", SEEN_BY_AN_EDITOR)
def test_mistakes_of_shape_are_seen_by_an_editor(name: str) -> None:
    """What can be told from the shape alone is refused by the schema, before the file is ever run."""
    mistake = strings((HERE / "mistakes.yaml").read_text(encoding="utf-8"))[name]
    spoiled = GOOD.replace(mistake["old"], mistake["new"]).replace("§", "")
    assert list(VALIDATOR.iter_errors(strings(spoiled))) != []
