"""`eyesout report`: of what, in which form, to where."""

import json
from pathlib import Path

import pytest

from runner.checklist.format.check_load import parse_check
from runner.command import report
from runner.errors import RecordError, UsageError
from runner.logbook.record.header import read_header
from runner.logbook.record.run_store import Logbook
from runner.session import parts
from tests.command.records import asked
from tests.core.calls import counted
from tests.logbook.sample import write_run
from tests.report.run_sample import STARTED_AT, write_busy_run, write_past


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A logbook with two tails, and an empty folder to stand in."""
    with Logbook.open(tmp_path / "logbook") as logbook:
        write_past(logbook, 2, "QQ-Z1")
        write_busy_run(logbook)
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    return tmp_path / "logbook"


def _here() -> list[str]:
    return sorted(path.name for path in Path.cwd().iterdir())


def test_the_last_run_becomes_a_page_named_for_it(folder: Path) -> None:
    """Without any argument."""
    words = asked(report, "--logbook", str(folder))
    (name,) = _here()
    assert words == f"wrote {name}\n"
    assert name.startswith("eyesout-2025-11-25-0920-merlow-ml2-")
    assert name.endswith(".html")
    assert Path(name).read_text(encoding="utf-8").startswith("<!doctype html>")


def test_a_registration_means_its_airplane_and_a_shared_file_name_the_fleet(folder: Path) -> None:
    """So does --fleet."""
    asked(report, "QQ-Z1", "--logbook", str(folder))
    asked(report, "merlow-ml2", "--pdf", "--paper", "letter", "--logbook", str(folder))
    assert _here() == ["eyesout-QQ-Z1.html", "eyesout-fleet.pdf"]
    assert Path("eyesout-fleet.pdf").read_bytes()[:5] == b"%PDF-"
    document = json.loads(asked(report, "--fleet", "--json", "--logbook", str(folder)))
    assert [airplane["registration"] for airplane in document["airplanes"]] == ["QQ-ML2", "QQ-Z1"]


def test_csv_and_json_are_printed_or_written_where_one_says(folder: Path) -> None:
    """The beginning of a run's id is enough to mean it."""
    printed = asked(report, "2025-11-25", "--csv", "--logbook", str(folder))
    assert printed.startswith("run,registration,")
    words = asked(report, "2025-11-25", "--json", "--to", "out.json", "--logbook", str(folder))
    assert words == "wrote out.json\n"
    assert json.loads(Path("out.json").read_text(encoding="utf-8"))["kind"] == "run"
    assert _here() == ["out.json"]


def test_local_time_can_be_named(folder: Path) -> None:
    """For papers that are made elsewhere than on the ramp."""
    asked(report, "--zone", "Europe/Vienna", "--to", "x.html", "--logbook", str(folder))
    assert "09:20:00 UTC, 10:20:00 local (UTC+01:00)" in Path("x.html").read_text(encoding="utf-8")
    with pytest.raises(UsageError, match='no time zone "noon"'):
        asked(report, "--zone", "noon", "--logbook", str(folder))


def test_what_is_not_there_is_said_in_one_line(folder: Path, tmp_path: Path) -> None:
    """Neither run nor airplane, several runs, no logbook, no such folder; nothing is left behind."""
    place = ("--logbook", str(folder))
    with pytest.raises(RecordError, match='no run and no airplane "QQ-NOT"'):
        asked(report, "QQ-NOT", *place)
    with pytest.raises(RecordError, match='"2025-11" could be any of'):
        asked(report, "2025-11", *place)
    with pytest.raises(RecordError, match="no logbook in"):
        asked(report, "--logbook", str(tmp_path / "none"))
    with pytest.raises(UsageError, match="cannot write"):
        asked(report, "--to", "gone/x.html", *place)
    assert _here() == []


def test_a_damaged_record_is_reported_with_exit_code_1(folder: Path) -> None:
    """As `show` does."""
    with Logbook.open(folder) as logbook, logbook.writing() as connection:
        connection.execute(
            "UPDATE line SET text = text || ' ' WHERE sequence = 9 AND chain IN "
            "(SELECT number FROM run WHERE started_at = ?)",
            (STARTED_AT,),
        )
    asked(report, "--to", "x.html", "--logbook", str(folder), code=1)
    assert "Record not whole" in Path("x.html").read_text(encoding="utf-8")


def test_a_run_made_with_an_unreadable_check_points_to_show(tmp_path: Path) -> None:
    """The record itself is whole."""
    run = write_run(tmp_path)
    with pytest.raises(RecordError, match=rf"`eyesout show {run}` prints its record"):
        asked(report, "--logbook", str(tmp_path))


@pytest.mark.parametrize("form", ["--html", "--pdf", "--csv", "--json"])
def test_a_report_reads_the_header_and_the_check_of_its_run_once(folder: Path, form: str) -> None:
    """Whatever the form; the trends on it are judged by the check that is read already."""
    parts._check_of.cache_clear()
    with counted(read_header, parse_check) as calls:
        asked(report, "--logbook", str(folder), form, "--to", str(folder / "paper"), "last")
    assert calls == {"read_header": 1, "parse_check": 1}
