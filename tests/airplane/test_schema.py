"""The JSON Schema for editors says the same as the loader."""

import json
from collections.abc import Callable, Mapping
from enum import StrEnum
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from runner.airplane.instrument import Seat, Sense
from runner.airplane.model import Airplane
from runner.airplane.source import Chemistry
from runner.airplane.wiring import Act, Keep, LinkKind, Service
from runner.errors import FileError

CHECKLISTS = Path(__file__).parents[2] / "checklists"
SCHEMA: Mapping[str, Any] = json.loads((CHECKLISTS / "schema" / "airplane.schema.json").read_text("utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def plain(words: str) -> object:
    """The document as an editor hands it to a schema: numbers and flags typed, dates as text."""
    document = yaml.safe_load(words)
    return json.loads(json.dumps(document, default=str))


def test_the_schema_is_a_schema() -> None:
    """It holds against its own meta-schema (JSON Schema 2020-12, by jsonschema)."""
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize(
    "path", sorted((CHECKLISTS / "airplanes").glob("*.yaml")), ids=lambda path: path.stem
)
def test_every_shipped_airplane_fits_the_schema(path: Path) -> None:
    """No error in any of them."""
    assert [error.message for error in VALIDATOR.iter_errors(plain(path.read_text("utf-8")))] == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("title:", "titel:"),
        ("battery_warn_share: 0.1\n", ""),
        ("chemistry: lead-acid", "chemistry: lead"),
        ("chemistry: lead-acid", "chemistry: nickel-cadmium"),
        ("cells: 12", "cells: 12.5"),
        ("peukert: 1.1", "peukert: 0.9"),
        ("ampere_hours: 30", "ampere_hours: thirty"),
        ("kind: diode", "kind: wirre"),
        ("joins: [hot bus, main bus]", "joins: [hot bus]"),
        ("{bus: reserve bus, amps: 1, ", "{amps: 1, "),
        ("service: ice protection", "service: ice"),
        ("{cruise: 0.5}", "{cruise: 1.5}"),
        ("{cruise: 0.5}", "{climb: 0.5}"),
        ("seat: left,", "seat: lft,"),
        ("{vacuum: air pump}", "{vacuum: air pump, own_battery_minutes: 3}"),
        ("    seat: centre\n    parts:", "    seat: centre\n    senses: engine\n    parts:"),
        ("pass: [24.5, 26.0]", "pass: [24.5]"),
        ("battery_warn_share: 0.1", "battery_warn_share: 10"),
    ],
)
def test_the_schema_and_the_loader_refuse_the_same_mistake(
    airplane_of: Callable[[str], Airplane], small_yaml: str, old: str, new: str
) -> None:
    """What an editor underlines is what the command would refuse."""
    assert VALIDATOR.is_valid(plain(small_yaml))
    wrong = small_yaml.replace(old, new, 1)
    assert not VALIDATOR.is_valid(plain(wrong))
    with pytest.raises(FileError):
        airplane_of(wrong)


@pytest.mark.parametrize("kind", [Chemistry, Act, LinkKind, Service, Keep, Seat, Sense])
def test_the_words_of_the_schema_are_those_of_the_model(kind: type[StrEnum]) -> None:
    """A word added to one is missed in the other."""
    listed = {tuple(found) for found in _enums(SCHEMA)}
    assert tuple(kind) in listed


def _enums(node: object) -> list[list[str]]:
    """Every list of allowed words in the schema."""
    if isinstance(node, dict):
        own = [node["enum"]] if "enum" in node else []
        return own + [found for value in node.values() for found in _enums(value)]
    if isinstance(node, list):
        return [found for value in node for found in _enums(value)]
    return []
