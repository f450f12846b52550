import hashlib
import json
import random
import re
from pathlib import Path

import pytest

from runner.core.record.entry import NoteRecorded
from runner.errors import RecordError
from runner.logbook.carry.run_export import FIRST, KeptFiles, Rescued, export, export_salvage
from runner.logbook.carry.run_intake import intake
from runner.logbook.proof.audit import audit_folder
from runner.logbook.proof.recover import salvage
from runner.logbook.record.chain import header_line
from runner.logbook.record.clip_file import keep_clip
from runner.logbook.record.record import chains
from runner.logbook.record.run_store import FILE, Logbook
from runner.logbook.squawk.maintenance_record import Closed, Serviced, file_record, filed_about
from tests.logbook.sample import STARTED_AT, new_run, whole_run, write_run

DAY = 86_400


@pytest.fixture
def filled(tmp_path: Path) -> Path:
    """A logbook with two whole runs, one unfinished with a clip, and maintenance records."""
    folder = tmp_path / "filled"
    first = write_run(folder)
    write_run(folder, started_at=STARTED_AT + DAY)
    with Logbook.open(folder) as logbook:
        clip = keep_clip(logbook.clips, b"RIFF and so on")
        with new_run(logbook, started_at=STARTED_AT + 2 * DAY, registration="X-WREN") as handle:
            handle.append(next(whole_run(STARTED_AT + 2 * DAY)))
            handle.append(NoteRecorded(STARTED_AT + 2 * DAY + 9, "volts", clip, 2.5))
        file_record(logbook, first, Closed(STARTED_AT + 300, "C. Invented", "volts", "battery replaced"))
        file_record(logbook, "X-LARK", Serviced(STARTED_AT + 300, "C. Invented", "battery replaced", "volts"))
    return folder


def _export(folder: Path, to: Path, runs: list[str] | None = None) -> Path:
    with Logbook.open(folder) as logbook:
        to.write_text(
            "".join(f"{line}\n" for line in export(logbook, KeptFiles(logbook, logbook.clips), runs))
        )
    return to


def test_a_logbook_comes_back_line_for_line(filled: Path, tmp_path: Path) -> None:
    """Exported, imported into a new logbook, exported again: the same bytes, and verify finds all whole."""
    first = _export(filled, tmp_path / "first.jsonl")
    with Logbook.open(tmp_path / "other") as other:
        taken = intake(other, first)
        assert (taken.chains, taken.lines, taken.new_lines) == (5, 33, 33)
    assert _export(tmp_path / "other", tmp_path / "second.jsonl").read_bytes() == first.read_bytes()
    assert audit_folder(tmp_path / "other").is_whole


def test_importing_twice_adds_nothing(filled: Path, tmp_path: Path) -> None:
    """Into the same logbook as well as into another."""
    file = _export(filled, tmp_path / "all.jsonl")
    for folder in (filled, tmp_path / "other", tmp_path / "other"):
        with Logbook.open(folder) as logbook:
            intake(logbook, file)
    with Logbook.open(tmp_path / "other") as other, Logbook.open(filled) as logbook:
        assert chains(other, "run") == chains(logbook, "run")


def test_one_run_goes_with_its_squawks_and_nothing_else(filled: Path, tmp_path: Path) -> None:
    """Its two file texts, its chain, what was recorded about its squawks."""
    with Logbook.open(filled) as logbook:
        run = filed_about(logbook)[0].subject
        other_runs = [chain.id for chain in chains(logbook, "run") if chain.id != run]
    text = _export(filled, tmp_path / "one.jsonl", [run]).read_text()
    assert "battery replaced" in text
    assert not any(other in text for other in other_runs)
    assert json.loads(text.splitlines()[-1]) == {"end": 15}


def test_an_export_can_be_checked_with_json_and_sha_256_alone(filled: Path, tmp_path: Path) -> None:
    """No part of this package is used: hashes and their chain follow from the text (FIPS 180-4, RFC 8259)."""
    before = ""
    for raw in _export(filled, tmp_path / "all.jsonl").read_text().splitlines():
        value = json.loads(raw)
        if "line" not in value:
            continue
        text = raw.removeprefix(f'{{"digest":"{value["digest"]}","line":').removesuffix("}")
        assert hashlib.sha256(text.encode()).hexdigest() == value["digest"]
        assert value["line"]["previous"] == (before if value["line"]["sequence"] else "0" * 64)
        before = value["digest"]


def test_an_unfinished_run_grows_by_a_later_import(tmp_path: Path) -> None:
    """What was flown on after the first export arrives with the second; the lists agree with the record."""
    home, away = tmp_path / "home", tmp_path / "away"
    entries = list(whole_run())
    with Logbook.open(home) as logbook:
        with new_run(logbook) as handle:
            for entry in entries[:6]:
                handle.append(entry)
        early = _export(home, tmp_path / "early.jsonl")
        with logbook.resume(handle.run) as again:
            for entry in entries[6:]:
                again.append(entry)
        late = _export(home, tmp_path / "late.jsonl")
    with Logbook.open(away) as other:
        assert intake(other, early).new_lines == 7
        assert intake(other, late).new_lines == 6
        assert intake(other, early).new_lines == 0
        assert other.entries(handle.run) == tuple(entries)
    assert audit_folder(away).is_whole


def test_a_run_that_went_on_differently_elsewhere_is_refused(tmp_path: Path) -> None:
    """A copied logbook used twice: neither version overwrites the other."""
    home, away = tmp_path / "home", tmp_path / "away"
    entries = list(whole_run())
    with Logbook.open(home) as logbook, new_run(logbook) as handle:
        handle.append(entries[0])
    with Logbook.open(away) as other:
        intake(other, _export(home, tmp_path / "early.jsonl"))
        with other.resume(handle.run) as there:
            there.append(entries[2])
    with Logbook.open(home) as logbook, logbook.resume(handle.run) as here:
        here.append(entries[1])
    file = _export(home, tmp_path / "late.jsonl")
    with (
        Logbook.open(away) as other,
        pytest.raises(RecordError, match=rf"late.jsonl:4: {handle.run} line 2 is not the one"),
    ):
        intake(other, file)


@pytest.mark.parametrize(
    ("old", "new", "place", "why"),
    [
        ('"answer":"21.40"', '"answer":"24.40"', 12, "line 8 does not match its hash"),
        ("title: Reserve", "title: Normal", 2, "was changed after it was recorded"),
        ('"base64":"UklG', '"base64":"UklH', 30, "was changed after it was recorded"),
        ('"base64":"UklG', '"base64":"?klG', 30, "Only base64 data is allowed"),
        ('"schema":1', '"schema":7', 4, "line format 7 is unknown"),
        ('"kind":"run started"', '"kind":"run begun"', 5, "does not match its hash"),
        ('{"end":33}', '{"end":32}', 38, "32 lines were exported, but 33 are here"),
        ('{"end":33}\n', "", 38, "the file ends early"),
        ('{"end":33}\n', '{"end":33}\n{"end":33}\n', 39, "there is more after the last line"),
        ('"format":1', '"format":2', 1, "not an export"),
    ],
)
def test_each_way_of_tampering_is_refused_at_its_line(
    filled: Path, tmp_path: Path, *, old: str, new: str, place: int, why: str
) -> None:
    """`file:line: why`, and the logbook stays empty."""
    file = _export(filled, tmp_path / "all.jsonl")
    text = file.read_text()
    assert old in text
    file.write_text(text.replace(old, new, 1))
    with Logbook.open(tmp_path / "other") as other:
        with pytest.raises(RecordError, match=rf"all\.jsonl:{place}: .*{why}"):
            intake(other, file)
        assert chains(other, "run") == ()
        assert not other.clips.exists()


@pytest.mark.parametrize("gone", [2, 4, 5, 10, 16, 20])
def test_a_line_left_out_is_refused(filled: Path, tmp_path: Path, gone: int) -> None:
    """A file's text, a header, an entry, wherever it was."""
    file = _export(filled, tmp_path / "all.jsonl")
    lines = file.read_text().splitlines(keepends=True)
    file.write_text("".join(lines[: gone - 1] + lines[gone:]))
    with Logbook.open(tmp_path / "other") as other, pytest.raises(RecordError, match=r"all\.jsonl:\d+: "):
        intake(other, file)


@pytest.mark.parametrize("kind", ["run", "maintenance"])
@pytest.mark.parametrize("name", ["../../x", "/etc/x", ".x", "a\x00b", ""])
def test_a_record_whose_name_reaches_elsewhere_is_refused(tmp_path: Path, name: str, kind: str) -> None:
    """Well chained and hashed, but made by someone with other plans."""
    line = header_line(name, {"kind": kind, "subject": "x", "writer": "y"})
    file = tmp_path / "odd.jsonl"
    file.write_text(f'{FIRST}\n{{"digest":"{line.digest}","line":{line.text}}}\n{{"end":1}}\n')
    with (
        Logbook.open(tmp_path / "other") as other,
        pytest.raises(RecordError, match=r"is no name of a run|not that of maintenance records"),
    ):
        intake(other, file)


def _refusal(logbook: Logbook, file: Path) -> str:
    try:
        intake(logbook, file)
    except RecordError as error:
        return str(error)
    return ""


@pytest.mark.parametrize("seed", range(40))
def test_any_changed_character_is_refused_or_changes_nothing(filled: Path, tmp_path: Path, seed: int) -> None:
    """Random places of the file; what is taken in is what was exported, or nothing is."""
    chance = random.Random(seed)
    file = _export(filled, tmp_path / "all.jsonl")
    text = file.read_text()
    at = chance.randrange(len(text))
    file.write_text(text[:at] + chance.choice('0aZ"{}:, \n') + text[at + 1 :])
    with Logbook.open(tmp_path / "other") as other:
        refusal = _refusal(other, file)
        if refusal:
            assert re.search(r"all\.jsonl:\d+: ", refusal)
            assert chains(other, "run") == chains(other, "maintenance") == ()
            return
    assert _export(tmp_path / "other", tmp_path / "again.jsonl").read_text() == text


@pytest.mark.parametrize("content", [b"", b"\xff\xfe", b"{}", b'{"eyesout":"logbook","format":1}\n[1]\n'])
def test_what_is_no_export_is_one_line(tmp_path: Path, content: bytes) -> None:
    """Empty, binary, other JSON."""
    file = tmp_path / "odd.jsonl"
    file.write_bytes(content)
    with Logbook.open(tmp_path / "other") as other, pytest.raises(RecordError, match=r"odd\.jsonl:"):
        intake(other, file)


def test_what_is_left_of_a_damaged_logbook_can_be_carried_into_a_new_one(
    filled: Path, tmp_path: Path
) -> None:
    """The broken run arrives up to its break, the others whole; a plain export is refused."""
    with Logbook.open(filled) as logbook, logbook.writing() as connection:
        connection.execute(
            "UPDATE line SET text = replace(text, '21.40', '24.40') WHERE sequence = 8 AND chain = 2"
        )
    with pytest.raises(RecordError, match="`eyesout export --salvage` writes what is whole"):
        _export(filled, tmp_path / "whole.jsonl")
    found = salvage(filled)
    file = tmp_path / "left.jsonl"
    file.write_text("".join(f"{line}\n" for line in export_salvage(found, Rescued(found, filled / "clips"))))
    with Logbook.open(tmp_path / "other") as other:
        assert intake(other, file).chains == 5
    lengths = sorted(verdict.lines for verdict in audit_folder(tmp_path / "other").verdicts)
    assert lengths == [2, 2, 3, 8, 13]
    assert audit_folder(tmp_path / "other").is_whole


def test_a_lost_text_is_marked_and_verify_goes_on_saying_so(filled: Path, tmp_path: Path) -> None:
    """A salvage never pretends that a run is complete."""
    with Logbook.open(filled) as logbook, logbook.writing() as connection:
        connection.execute("DELETE FROM snapshot WHERE text LIKE 'title%'")
    found = salvage(filled)
    file = tmp_path / "left.jsonl"
    file.write_text("".join(f"{line}\n" for line in export_salvage(found, Rescued(found, filled / "clips"))))
    with Logbook.open(tmp_path / "other") as other:
        intake(other, file)
    faults = [fault for verdict in audit_folder(tmp_path / "other").verdicts for fault in verdict.faults]
    assert len(faults) == 3
    assert all("is missing from" in fault and FILE in fault for fault in faults)
