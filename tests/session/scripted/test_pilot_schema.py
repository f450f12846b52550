"""The schema of pilot files: editors and the loader agree."""

import json
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from runner.place import data_folder
from runner.session.scripted.pilot_script import (
    LINE_KEYS,
    NOISE_KEYS,
    SCRIPT_OPTIONAL,
    SCRIPT_REQUIRED,
    load_script,
)
from runner.voice.background import Background

SCHEMA: dict[str, Any] = json.loads(
    (data_folder("checklists") / "schema" / "pilot.schema.json").read_text(encoding="utf-8")
)
VALIDATOR = Draft202012Validator(SCHEMA)
PILOTS = sorted(data_folder("demo").glob("*.yaml"))


def _errors(text: str) -> list[str]:
    # BaseLoader makes strings, lists and mappings only
    return [error.message for error in VALIDATOR.iter_errors(yaml.load(text, yaml.BaseLoader))]  # noqa: S506


def test_the_schema_is_one() -> None:
    """Valid JSON Schema, draft 2020-12."""
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("path", PILOTS, ids=lambda path: path.stem)
def test_shipped_pilots_fit_it_and_name_it(path: Path) -> None:
    """In their first line, so that an editor finds it; the loader takes them as well."""
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# yaml-language-server: $schema=../checklists/schema/pilot.schema.json\n")
    assert _errors(text) == []
    assert load_script(path, noises=tuple(Background)).lines


def test_schema_and_loader_agree_on_keys() -> None:
    """The same keys, the same ones required, the same noises; every key is described."""
    line, noise = SCHEMA["$defs"]["line"], SCHEMA["$defs"]["noise"]
    assert set(SCHEMA["properties"]) == {*SCRIPT_REQUIRED, *SCRIPT_OPTIONAL}
    assert SCHEMA["required"] == list(SCRIPT_REQUIRED)
    assert set(line["properties"]) == set(LINE_KEYS)
    assert noise["required"] == list(NOISE_KEYS)
    assert noise["properties"]["kind"]["enum"] == list(Background)
    described = [SCHEMA["properties"][key] for key in SCHEMA["properties"] if key != "noise"]
    assert all("description" in part for part in (noise, *described, *line["properties"].values()))


@pytest.mark.parametrize(
    "text",
    [
        "check: x",
        "check: x\nlines: []",
        "check: x\nline: [{on: a, say: b}]",
        "check: x\nlines: [{say: b}]",
        "check: x\nlines: [{on: a, clock: b, say: c, after: 1}]",
        "check: x\nlines: [{on: a}]",
        "check: x\nlines: [{clock: a, say: b}]",
        "check: x\nlines: [{on: a, say: b, after: soon}]",
        "check: x\nstart: dawn\nlines: [{on: a, say: b}]",
        "check: x\nnoise: {kind: engin, snr: 3}\nlines: [{on: a, say: b}]",
    ],
)
def test_mistakes_of_shape_are_seen_by_an_editor(text: str) -> None:
    """Before the file is ever run."""
    assert _errors(text) != []
