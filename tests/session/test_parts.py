"""What a run is built from: files by name or path, and the same again out of a record."""

from pathlib import Path

import pytest

from runner.errors import FileError, UsageError
from runner.logbook.record.run_store import Logbook
from runner.session.beginning import begin_run
from runner.session.data_file import find_check
from runner.session.parts import Parts, load_parts, recorded_parts


def _record(parts: Parts, logbook: Logbook) -> str:
    with begin_run(
        logbook, parts, pilot="", started_at=1796280000.0, engine=None, is_invented=True
    ) as record:
        return record.run


def test_an_unknown_check_names_the_nearest() -> None:
    """A slip of the hand gets a suggestion."""
    with pytest.raises(UsageError, match='did you mean "merlow-reserve"'):
        find_check("merlo-reserve")


def test_a_path_that_is_not_there_is_a_file_error(tmp_path: Path) -> None:
    """A path is taken as it is, and told with its place."""
    with pytest.raises(FileError, match="there is no such file"):
        load_parts(str(tmp_path / "mine.yaml"))


def test_each_selector_position_has_its_current() -> None:
    """The plan knows what the battery gives in every position, and less on reserve than in flight."""
    parts = load_parts("merlow-reserve")
    amps = parts.plan.battery_amps
    assert parts.airplane is not None
    assert set(amps) == set(parts.airplane.selector.positions)
    assert 0 < amps["reserve"] < amps["flight"]


def test_a_record_gives_the_same_parts_after_the_files_have_changed(tmp_path: Path) -> None:
    """A run is replayed from the texts it was begun with."""
    parts = load_parts("merlow-reserve")
    with Logbook.open(tmp_path) as logbook:
        again = recorded_parts(logbook, _record(parts, logbook))
    assert [(item.name, item.body) for item in again.check.items] == [
        (item.name, item.body) for item in parts.check.items
    ]
    assert again.check_text == parts.check_text
    assert again.airplane_text == parts.airplane_text
