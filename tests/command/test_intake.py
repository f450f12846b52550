"""What an import lets in, every later command can read; what it let in can be set aside again."""

import json
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from runner.cli import main
from runner.command import history, intake, maintenance, report, show, squawk, trend, verify
from runner.errors import EyesoutError, RecordError
from runner.logbook.list.run_list import runs
from runner.logbook.proof.audit import audit_folder
from runner.logbook.record.chain import canonical, digest
from runner.logbook.record.run_store import Logbook
from tests.command.records import asked
from tests.logbook.sample import write_run

EXPORT = Path(__file__).parents[1] / "logbook" / "golden" / "export.jsonl"


def _forged(change: Callable[[dict[str, Any]], None], to: Path) -> Path:
    """The golden export with changed bodies and every hash computed anew, as a careful forger would."""
    lines, before = [], ""
    for raw in EXPORT.read_text().splitlines():
        value = json.loads(raw)
        if "line" in value:
            line = value["line"]
            change(line)
            line["previous"] = before if line["sequence"] else "0" * 64
            before = digest(canonical(line))
            value["digest"] = before
            raw = f'{{"digest":"{before}","line":{canonical(line)}}}'  # noqa: PLW2901 - the same line, forged
        lines.append(raw)
    to.write_text("\n".join(lines) + "\n")
    return to


def _everything(place: str, folder: Path) -> None:
    """Each command that reads records, over all that there is."""
    for command, words in (
        (history, ()),
        (squawk, ("list", "--all")),
        (report, ("--fleet", "--json")),
        (report, ("--fleet", "--html", "--to", str(folder / "fleet.html"))),
    ):
        asked(command, *words, "--logbook", place)
    with Logbook.open(Path(place)) as logbook:
        listed = runs(logbook)
    for run in listed:
        asked(show, run.run, "--logbook", place)
        asked(trend, run.registration, "--logbook", place)
        asked(maintenance, run.registration, "--logbook", place)
        if run.registration.startswith("QQ"):  # the others' check files are no real ones
            asked(report, run.run, "--json", "--logbook", place)
            asked(report, run.run, "--html", "--to", str(folder / "run.html"), "--logbook", place)


BAD: list[tuple[str, str, object]] = [
    ("serviced", "at", "yesterday"),
    ("serviced", "at", 1e300),
    ("serviced", "at", True),
    ("serviced", "series", 7),
    ("deferred", "until", "2025-13-45"),
    ("deferred", "answers", {"d1": "yes"}),
    ("deferred", "answers", ["d1"]),
    ("noted", "text", None),
    ("closed", "how", ["x"]),
    ("closed", "at", -1e15),
    ("run", "started_at", 1e15),
    ("run", "oat_celsius", 10**30),
    ("maintenance", "subject", 7),
    ("answer recorded", "at", 1e17),
    ("answer recorded", "onset_at", -1e17),
    ("answer recorded", "response_seconds", 1e300),
    ("answer recorded", "item", "no such item"),
    ("clock ended", "seconds", 1e200),
    ("run completed", "at", 10**400),
]


@pytest.mark.parametrize(("kind", "name", "value"), BAD)
def test_what_later_commands_cannot_read_is_refused_whole(
    tmp_path: Path, kind: str, name: str, value: object
) -> None:
    """File and line are named, and not one record of the file is kept."""

    def change(line: dict[str, Any]) -> None:
        is_real = not line["chain"].startswith("2025-11-2") or kind in ("noted", "deferred", "closed")
        if line["body"].get("kind") == kind and is_real:
            line["body"][name] = value

    file = _forged(change, tmp_path / "forged.jsonl")
    with pytest.raises(RecordError, match=r"forged\.jsonl:\d+: "):
        asked(intake, str(file), "--logbook", str(tmp_path / "book"))
    with Logbook.open(tmp_path / "book") as logbook:
        assert logbook.rows("SELECT count(*) FROM chain WHERE kind <> 'links'") == [(0,)]


@pytest.mark.parametrize("seed", range(25))
def test_a_mutated_export_is_refused_or_can_be_read_by_everything(tmp_path: Path, seed: int) -> None:
    """One random field of random lines gets a random value; hashes are right."""
    dice = random.Random(seed)  # noqa: S311 - a test's choice
    values: list[object] = [
        None,
        "",
        "x\x1b[31m",
        0,
        -1,
        1.5e308,
        5,
        True,
        [],
        {},
        "2025-02-30",
        "nan",
        "reserve",
        "1e999",
        1e9,
    ]

    def change(line: dict[str, Any]) -> None:
        body = line["body"]
        name = dice.choice(sorted(body))
        if dice.random() < 0.02 and name != "kind":
            body[name] = dice.choice(values)

    file = _forged(change, tmp_path / "forged.jsonl")
    book = tmp_path / "book"
    try:
        asked(intake, str(file), "--logbook", str(book))
    except EyesoutError:
        return
    assert audit_folder(book).is_whole
    _everything(str(book), tmp_path)


def test_the_untouched_export_is_taken_and_read_by_everything(tmp_path: Path) -> None:
    """So that the tests above do not pass for another reason."""
    file = _forged(lambda _: None, tmp_path / "same.jsonl")
    assert file.read_text() == EXPORT.read_text()
    asked(intake, str(file), "--logbook", str(tmp_path / "book"))
    _everything(str(tmp_path / "book"), tmp_path)


def test_deep_json_is_one_line(tmp_path: Path) -> None:
    """Ten thousand brackets are no reason for a traceback."""
    file = tmp_path / "deep.jsonl"
    first = EXPORT.read_text().partition("\n")[0]
    file.write_text(first + "\n" + '{"line":' + "[" * 100_000 + "\n")
    with pytest.raises(RecordError, match=r"deep\.jsonl:2: "):
        asked(intake, str(file), "--logbook", str(tmp_path / "book"))


def test_an_imported_run_is_set_aside_and_taken_back(tmp_path: Path) -> None:
    """Out of lists, trends and reports, its record kept and verified; then back as it was."""
    place = str(tmp_path / "book")
    asked(intake, str(EXPORT), "--logbook", place)
    before = asked(history, "--logbook", place)
    with Logbook.open(tmp_path / "book") as logbook:
        run = runs(logbook, airplane="QQ-Z07")[0].run
    told = asked(
        intake, "--set-aside", run, "--by", "A. Invented", "--why", "another airplane", "--logbook", place
    )
    assert run in told
    assert "another airplane" in told
    assert run not in asked(history, "--logbook", place)
    assert run not in asked(report, "QQ-Z07", "--json", "--logbook", place)
    assert '"runs": 1' in asked(report, "QQ-Z07", "--json", "--logbook", place)
    with pytest.raises(RecordError, match=f"was set aside; `eyesout import --take-back {run}`"):
        asked(show, run, "--logbook", place)
    assert "7 of 8 records" not in asked(verify, "--logbook", place)
    asked(intake, "--take-back", run, "--by", "A. Invented", "--logbook", place)
    assert asked(history, "--logbook", place) == before
    assert asked(intake, "--list", "--logbook", place) == "no run is set aside\n"
    assert audit_folder(tmp_path / "book").is_whole


def test_a_run_of_ones_own_cannot_be_set_aside(tmp_path: Path) -> None:
    """What was found on one's own airplane does not leave its list."""
    run = write_run(tmp_path)
    with pytest.raises(RecordError, match="was made in this logbook"):
        asked(intake, "--set-aside", run, "--by", "A. Invented", "--logbook", str(tmp_path))


def test_a_run_that_is_aside_stays_so_in_another_logbook(tmp_path: Path) -> None:
    """Its record and what was said of it travel together."""
    from runner.command import export  # noqa: PLC0415 - only this test exports

    first, second = str(tmp_path / "first"), str(tmp_path / "second")
    asked(intake, str(EXPORT), "--logbook", first)
    with Logbook.open(tmp_path / "first") as logbook:
        run = runs(logbook, airplane="QQ-Z07")[0].run
    asked(intake, "--set-aside", run, "--by", "A. Invented", "--logbook", first)
    asked(export, "--to", str(tmp_path / "all.jsonl"), "--logbook", first)
    asked(intake, str(tmp_path / "all.jsonl"), "--logbook", second)
    assert run not in asked(history, "--logbook", second)
    assert audit_folder(tmp_path / "second").is_whole


def test_the_command_says_what_it_needs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing to import and nothing to do."""
    assert main(["import", "--logbook", str(tmp_path)]) == 2
    assert "name files to import" in capsys.readouterr().err
