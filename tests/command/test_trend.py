import json
from pathlib import Path

import pytest

from runner.command import trend
from runner.errors import RecordError, UsageError
from runner.language.catalogue import STANDING_CAUTION
from tests.command.records import asked
from tests.logbook.sample import STARTED_AT, write_run


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A logbook with ten runs that are all alike."""
    for day in range(10):
        write_run(tmp_path / "logbook", started_at=STARTED_AT + day * 86_400)
    return tmp_path / "logbook"


def test_the_table_ends_with_the_standing_caution(folder: Path) -> None:
    """Nothing moved, so nothing is drawn."""
    lines = asked(trend, "lark", "--logbook", str(folder)).splitlines()
    assert lines[0] == "X-LARK"
    assert [line.split("  ")[1] for line in lines[1:5]] == ["series", "left gyro", "volts", "response times"]
    assert lines[2].endswith("steady over 10 runs")
    assert lines[-1] == STANDING_CAUTION


def test_one_series_can_be_chosen_and_drawn_in_the_terminal(folder: Path) -> None:
    """Only its line and its chart."""
    words = asked(trend, "lark", "--series", "left gyro", "--graph", "--logbook", str(folder))
    assert "left gyro, seconds" in words
    assert "volts" not in words
    with pytest.raises(UsageError, match='no series "nose gyro" of X-LARK; it has: left gyro, volts'):
        asked(trend, "lark", "--series", "nose gyro", "--logbook", str(folder))


def test_charts_are_written_one_a_series(folder: Path, tmp_path: Path) -> None:
    """Named for the series; the folder is made."""
    charts = tmp_path / "new" / "charts"
    words = asked(trend, "lark", "--charts", str(charts), "--format", "png", "--logbook", str(folder))
    assert sorted(path.name for path in charts.iterdir()) == [
        "left-gyro.png",
        "response-times.png",
        "volts.png",
    ]
    assert f"wrote {charts / 'left-gyro.png'}" in words
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(UsageError, match="cannot write to"):
        asked(trend, "lark", "--charts", str(tmp_path / "file"), "--logbook", str(folder))


def test_json_says_the_same(folder: Path) -> None:
    """One document, nothing else."""
    document = json.loads(asked(trend, "lark", "--json", "--logbook", str(folder)))
    assert (document["registration"], document["is_invented"], document["spoken"]) == ("X-LARK", False, None)
    assert [one["verdict"]["state"] for one in document["series"]] == ["steady"] * 3


def test_no_logbook_is_made_by_looking(tmp_path: Path) -> None:
    """As `history` does."""
    with pytest.raises(RecordError, match="no logbook in"):
        asked(trend, "lark", "--logbook", str(tmp_path / "none"))
