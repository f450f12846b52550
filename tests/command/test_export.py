import json
import subprocess
from pathlib import Path

import pytest

from runner.command import export, intake, verify
from runner.errors import RecordError, UsageError
from runner.logbook.record.run_store import FILE, Logbook
from tests.command.records import asked
from tests.logbook.sample import STARTED_AT, write_run
from tests.ordinary_user import needs_setpriv, ordinary_python


def _place(folder: Path) -> tuple[str, str]:
    return "--logbook", str(folder)


def test_export_to_a_file_and_import_elsewhere(tmp_path: Path) -> None:
    """All records arrive, twice over adds nothing, and the file equals what standard output gets."""
    home, away, file = tmp_path / "home", tmp_path / "away", tmp_path / "all.jsonl"
    write_run(home)
    assert asked(export, "--to", str(file), *_place(home)) == ""
    assert asked(export, *_place(home)) == file.read_text()
    assert asked(intake, str(file), *_place(away)) == f"{file}: 1 records, 13 lines, 13 of them new\n"
    (again,) = json.loads(asked(intake, str(file), "--json", *_place(away)))
    assert again["new_lines"] == 0
    asked(verify, *_place(away))


def test_export_of_chosen_runs(tmp_path: Path) -> None:
    """By the beginning of an id, or as the last."""
    write_run(tmp_path)
    last = write_run(tmp_path, started_at=STARTED_AT + 86_400)
    for words in ("2025-11-26", "last"):
        lines = asked(export, words, *_place(tmp_path)).splitlines()
        chains = {json.loads(line)["line"]["chain"] for line in lines if '"line":' in line}
        assert chains == {last}


def test_an_export_that_fails_leaves_the_old_file(tmp_path: Path) -> None:
    """The new file arrives whole or not at all."""
    file = tmp_path / "all.jsonl"
    file.write_text("old")
    write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook, logbook.writing() as connection:
        connection.execute("UPDATE line SET text = text || ' ' WHERE sequence = 5")
    with pytest.raises(RecordError, match="`eyesout export --salvage`"):
        asked(export, "--to", str(file), *_place(tmp_path))
    assert file.read_text() == "old"
    assert not list(tmp_path.glob(".*partial"))


def test_salvage_writes_what_is_left_of_a_torn_file(tmp_path: Path) -> None:
    """The first page is gone; the run is in the new logbook, its texts perhaps not."""
    home, file = tmp_path / "home", tmp_path / "left.jsonl"
    run = write_run(home)
    data = (home / FILE).read_bytes()
    (home / FILE).write_bytes(bytes(4096) + data[4096:])
    asked(export, "--salvage", "--to", str(file), *_place(home))
    asked(intake, str(file), *_place(tmp_path / "away"))
    with Logbook.open(tmp_path / "away") as logbook:
        assert len(logbook.entries(run)) == 12


def test_salvage_of_chosen_runs_is_refused(tmp_path: Path) -> None:
    """It takes whatever is left."""
    write_run(tmp_path)
    with pytest.raises(UsageError, match="name no run"):
        asked(export, "--salvage", "last", *_place(tmp_path))


@needs_setpriv
def test_a_folder_that_cannot_be_written_is_one_line(tmp_path: Path) -> None:
    """Permissions."""
    write_run(tmp_path / "home")
    (tmp_path / "shut").mkdir(mode=0o500)
    words = ("export", "--to", str(tmp_path / "shut" / "all.jsonl"), *_place(tmp_path / "home"))
    done = subprocess.run(
        ordinary_python("-m", "runner.cli", *words), capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert "cannot write" in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_a_missing_folder_is_one_line(tmp_path: Path) -> None:
    """The message names the file."""
    write_run(tmp_path)
    with pytest.raises(UsageError, match=r"cannot write .*all\.jsonl: No such file"):
        asked(export, "--to", str(tmp_path / "none" / "all.jsonl"), *_place(tmp_path))
