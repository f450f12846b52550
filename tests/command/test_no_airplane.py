"""Runs of a check that is for any airplane: everything that shows an airplane copes without one."""

import io
import json
import sys
from pathlib import Path

import pytest

from runner import cli

FORMS = ("--csv", "--json", "--pdf", "--html")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder, in whose logbook a walk round was begun by keys and one oil reading squawked."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "stdin", io.StringIO("c\nn\n"))
    assert cli.main(["run", "walk-round", "--keys", "--plain", "--logbook", "own"]) == 1
    return tmp_path


def test_the_screen_shows_no_battery_and_no_title(capsys: pytest.CaptureFixture[str], folder: Path) -> None:
    """And the closing lines reckon none."""
    assert folder.is_dir()
    shown = capsys.readouterr().out
    assert "no airplane: Walk round, before the first flight of the day" in shown
    assert "battery" not in shown


def test_lists_say_that_there_is_none(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The record is named after its check, and found by what the list shows."""
    capsys.readouterr()
    assert cli.main(["history", "no airplane", "--logbook", "own", "--json"]) == 0
    (run,) = json.loads(capsys.readouterr().out)
    assert "-walk-round-" in run["run"]
    assert (run["airplane"], run["registration"]) == ("", "no airplane")
    assert cli.main(["show", "last", "--logbook", str(folder / "own")]) == 0
    assert "no airplane, check walk-round" in capsys.readouterr().out


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("about", ["last", "no airplane"])
def test_every_paper_is_written(folder: Path, form: str, about: str) -> None:
    """Of the run and of all that name no airplane."""
    words = ["report", about, "--logbook", "own", *([] if form == "--html" else [form]), "--to", "paper"]
    assert cli.main(words) == 0
    assert (folder / "paper").stat().st_size > 0


def test_the_papers_reckon_no_battery_and_trend_nothing(folder: Path) -> None:
    """Such runs may be of many airplanes, so their values make no series."""
    assert cli.main(["report", "last", "--logbook", "own", "--to", "run.html"]) == 0
    page = (folder / "run.html").read_text(encoding="utf-8")
    assert "not reckoned, as the check is for any airplane" in page
    assert "Over the runs of this airplane" not in page
    assert cli.main(["report", "no airplane", "--logbook", "own", "--to", "all.html"]) == 0
    assert "These runs name no airplane" in (folder / "all.html").read_text(encoding="utf-8")


def test_it_goes_on_and_verifies(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The record alone gives the check again, and nothing in it is missing."""
    assert cli.main(["verify", "--logbook", "own"]) == 0
    capsys.readouterr()
    sys.stdin = io.StringIO("")
    assert cli.main(["run", "--resume", "--keys", "--plain", "--logbook", str(folder / "own")]) == 1
    assert "[answer" in capsys.readouterr().out
