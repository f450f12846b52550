"""A logbook of version 0.1.0, table layout 1, before records were linked: it must stay readable for good."""

import shutil
from pathlib import Path

import pytest

from runner.logbook.carry.run_export import KeptFiles, export
from runner.logbook.carry.run_intake import intake
from runner.logbook.list.airplane_series import series_of
from runner.logbook.list.run_list import find_run, runs
from runner.logbook.proof.audit import audit_folder
from runner.logbook.record.run_store import FILE, Logbook
from runner.logbook.squawk.maintenance_record import Serviced, services_of
from runner.logbook.squawk.squawk_record import SquawkState, squawks
from runner.session.parts import recorded_parts
from tests.logbook.sample import STARTED_AT, whole_run, write_run

GOLDEN = Path(__file__).parent / "golden"
EXPORT = GOLDEN / "export.jsonl"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy that may be written."""
    copied = tmp_path / "golden"
    shutil.copytree(GOLDEN, copied)
    return copied


def _exported(folder: Path) -> str:
    with Logbook.open(folder) as logbook:
        return "".join(f"{line}\n" for line in export(logbook, KeptFiles(logbook, logbook.clips)))


def test_it_is_whole_and_says_the_same(folder: Path) -> None:
    """Runs, answers, squawks, services and the files' texts, as they were when it was written."""
    assert audit_folder(folder).is_whole
    with Logbook.open(folder) as logbook:
        assert [(run.registration, run.state.value) for run in runs(logbook)] == [
            ("X-WREN", "open"),
            ("X-LARK", "complete"),
            ("QQ-Z07", "complete"),
            ("QQ-Z07", "complete"),
        ]
        first = find_run(logbook, "2025-11-25").run
        assert logbook.entries(first) == tuple(whole_run())
        [squawk] = [one for one in squawks(logbook) if one.registration == "X-LARK"]
        assert (squawk.item, squawk.state) == ("volts", SquawkState.CLOSED)
        assert services_of(logbook, "QQ-Z07") == (
            Serviced(STARTED_AT + 400, "C. Invented", "left gyro replaced"),
        )
        assert len(series_of(logbook, "QQ-Z07")[0].points) == 2
        newest = runs(logbook, airplane="QQ-Z07", limit=1)[0].run
        assert recorded_parts(logbook, newest).check.name == "merlow-reserve"


def test_it_exports_and_imports_line_for_line(folder: Path, tmp_path: Path) -> None:
    """The same bytes as its own version wrote, also by way of a new logbook."""
    assert _exported(folder) == EXPORT.read_text()
    with Logbook.open(tmp_path / "other") as other:
        assert intake(other, EXPORT).chains == 7
    assert _exported(tmp_path / "other") == EXPORT.read_text()


def test_it_goes_on(folder: Path) -> None:
    """A run that was left open is finished, a new one begun, and all is whole."""
    with Logbook.open(folder) as logbook:
        open_run = next(run.run for run in runs(logbook) if run.registration == "X-WREN")
        with logbook.resume(open_run) as handle:
            for entry in list(whole_run(STARTED_AT + 3 * 86_400))[1:]:
                handle.append(entry)
    write_run(folder, started_at=STARTED_AT + 4 * 86_400)
    assert (folder / FILE).exists()
    assert audit_folder(folder).is_whole
