"""The JSON reports fit their schema, and say what the data says."""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator, FormatChecker

from runner.place import data_folder
from runner.report.fleet.airplane_json import fleet_dict
from runner.report.run.run_json import run_dict
from tests.report.run_sample import STARTED_AT, Reports, reports

SCHEMA: dict[str, Any] = json.loads(
    (data_folder("checklists") / "schema" / "report.schema.json").read_text(encoding="utf-8")
)
VALIDATOR = Draft202012Validator(SCHEMA, format_checker=FormatChecker())


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Reports:
    """A busy run and its airplane."""
    return reports(tmp_path_factory.mktemp("logbook"))


def _plain(document: dict[str, Any]) -> Any:
    """As a reader of the file gets it."""
    return json.loads(json.dumps(document, allow_nan=False))


def test_the_schema_is_one() -> None:
    """Valid JSON Schema, draft 2020-12."""
    Draft202012Validator.check_schema(SCHEMA)


def test_both_documents_fit_the_schema(made: Reports) -> None:
    """With every optional part in them."""
    for document in (run_dict(made.run), fleet_dict(made.airplane)):
        assert [error.message for error in VALIDATOR.iter_errors(_plain(document))] == []


@pytest.mark.parametrize(
    "change",
    [
        lambda document: document.pop("caution"),
        lambda document: document.update(verdict="safe"),
        lambda document: document["record"].update(sha256="short"),
        lambda document: document["items"][0].update(state="skipped"),
        lambda document: document["items"][0]["answers"][0].update(at="noon"),
        lambda document: document.update(format=2),
    ],
    ids=["no caution", "odd key", "no hash", "odd state", "time in words", "other format"],
)
def test_what_does_not_fit_is_seen_by_the_schema(made: Reports, change: Any) -> None:
    """It is strict: it refuses what a reader could stumble over."""
    document = _plain(run_dict(made.run))
    change(document)
    assert list(VALIDATOR.iter_errors(document)) != []


def test_the_run_document_holds_times_values_and_corrections(made: Reports) -> None:
    """Seconds since the epoch, and RFC 3339 for the times of the run."""
    document = run_dict(made.run)
    assert document["run"]["started"] == {"at": STARTED_AT, "utc": "2025-11-25T09:20:00.000Z"}
    items = {item["item"]: item for item in document["items"]}
    assert [answer["answer"] for answer in items["gear lamps"]["answers"]] == ["three green", "nose out"]
    assert items["gear lamps"]["answers"][0]["superseded_at"] == STARTED_AT + 129
    assert items["volts on reserve"]["expected"]["pass"] == [24.8, 26.3]
    assert items["volts on reserve"]["answers"][0]["value"] == 22.8
    assert document["record"]["sha256"] == made.run.proof.sha256


def test_the_airplane_document_counts_as_the_data_does(made: Reports) -> None:
    """Thirty invented runs and the busy one."""
    (airplane,) = fleet_dict(made.airplane)["airplanes"]
    assert (airplane["runs"], len(airplane["newest"]), len(airplane["trends"])) == (31, 12, 11)
    assert airplane["maintenance"][0]["what"] == "battery replaced"


def test_the_schema_is_shipped() -> None:
    """Beside those of checks, airplanes, pilot and syllabus files, where the wheel takes it along."""
    names = sorted(path.name for path in Path(data_folder("checklists") / "schema").iterdir())
    assert names == [f"{kind}.schema.json" for kind in ("airplane", "check", "pilot", "report", "syllabus")]
