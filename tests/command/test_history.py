import json
from pathlib import Path

import pytest

from runner.command import history, maintenance, show, verify
from runner.errors import RecordError, UsageError
from runner.logbook.record.run_store import FILE, Logbook
from tests.command.records import asked
from tests.logbook.sample import STARTED_AT, new_run, whole_run, write_run

DAY = 86_400
PILOT = "A. Invented"
"""As in the sample."""


def _place(folder: Path) -> tuple[str, str]:
    return "--logbook", str(folder)


def test_history_lists_runs_newest_first_and_the_same_as_json(tmp_path: Path) -> None:
    """Times, results and squawks of each; an unfinished one took no time yet."""
    first = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook:
        new_run(logbook, started_at=STARTED_AT + DAY).close()
    head, newest, oldest = asked(history, *_place(tmp_path)).splitlines()
    assert head.split("  ")[0] == "started, UTC"
    assert newest.split()[:3] == ["2025-11-26", "09:20", "X-LARK"]
    assert newest.split()[5] == "open"
    assert oldest.split() == [
        *["2025-11-25", "09:20", "X-LARK", *PILOT.split(), "complete", "1.0", "min", "-", "1", "1"],
        first,
    ]
    short = asked(history, "--limit", "1", *_place(tmp_path)).splitlines()
    assert (len(short), short[-1]) == (3, "older runs are left out; --limit 0 lists all")
    listed = json.loads(asked(history, "lark", "--json", "--limit", "0", *_place(tmp_path)))
    assert [one["state"] for one in listed] == ["open", "complete"]


def test_history_of_one_pilot(tmp_path: Path) -> None:
    """Only the runs of that name, as a list and as JSON; a name that flew none has none."""
    write_run(tmp_path)
    assert len(asked(history, "--by", PILOT, *_place(tmp_path)).splitlines()) == 2
    listed = json.loads(asked(history, "lark", "--by", PILOT, "--json", *_place(tmp_path)))
    assert [one["pilot"] for one in listed] == [PILOT]
    assert asked(history, "--by", "nobody", *_place(tmp_path)) == "no runs yet\n"


def test_history_of_nothing_makes_no_logbook(tmp_path: Path) -> None:
    """Looking leaves no file behind."""
    with pytest.raises(RecordError, match=r"no logbook in .*`eyesout run` begins one"):
        asked(history, *_place(tmp_path / "none"))
    assert not (tmp_path / "none").exists()


def test_show_prints_every_entry_and_the_hash(tmp_path: Path) -> None:
    """The correction is there as well as what replaced it."""
    run = write_run(tmp_path)
    words = asked(show, *_place(tmp_path))
    assert f"{run}: complete" in words
    assert words.count("\n  00:") + words.count("\n  01:") == 12
    assert "00:14.0  volts      24.6 volts" in words
    assert "00:20.0  volts      21.40 volts SQUAWK" in words
    assert "00:40.0  left_flag  flag pulled, 30.5 seconds" in words
    assert "squawk, open: volts: 21.40 volts" in words
    plain = json.loads(asked(show, run, "--json", *_place(tmp_path)))
    assert len(plain["entries"]) == 12
    assert plain["sha256"] in words
    assert plain["fault"] is None


def test_show_of_a_damaged_run_shows_what_is_whole_and_says_where_it_breaks(tmp_path: Path) -> None:
    """Exit code 1."""
    run = write_run(tmp_path)
    with Logbook.open(tmp_path) as logbook, logbook.writing() as connection:
        connection.execute("UPDATE line SET text = text || ' ' WHERE sequence = 5")
    words = asked(show, run, *_place(tmp_path), code=1)
    assert words.count("00:") == 4
    assert "NOT WHOLE: line 5" in words


def test_verify_says_whole_or_what_is_not(tmp_path: Path) -> None:
    """Exit code 0 or 1; JSON has the same."""
    run = write_run(tmp_path)
    assert asked(verify, *_place(tmp_path)) == "1 of 1 records whole, 13 lines read\n"
    assert f"{run}: 13 lines whole, SHA-256 " in asked(verify, "--all", *_place(tmp_path))
    assert json.loads(asked(verify, "--json", *_place(tmp_path)))["is_whole"] is True
    with Logbook.open(tmp_path) as logbook, logbook.writing() as connection:
        connection.execute("DELETE FROM line WHERE sequence = 7")
    words = asked(verify, *_place(tmp_path), code=1)
    assert f"{run}: 7 lines whole, then: line 7 is missing" in words
    assert "nothing was changed" in words


def test_verify_of_a_file_without_its_first_page_still_lists_the_runs(tmp_path: Path) -> None:
    """SQLite refuses it; the lines are found in its bytes."""
    run = write_run(tmp_path)
    data = (tmp_path / FILE).read_bytes()
    (tmp_path / FILE).write_bytes(bytes(4096) + data[4096:])
    words = asked(verify, *_place(tmp_path), code=1)
    assert "not a database" in words
    assert f"{run}: 13 lines whole, then: nothing follows line 12" in words


def test_maintenance_is_recorded_and_listed(tmp_path: Path) -> None:
    """Work on one gyro, at a time of one's own."""
    write_run(tmp_path)
    place = _place(tmp_path)
    assert asked(maintenance, "lark", *place) == "no maintenance recorded\n"
    words = ("lark", "--done", "gyro replaced", "--by", "C. Invented", "--series", "left gyro")
    listed = asked(maintenance, *words, "--at", "2025-12-01", *place)
    assert listed.split() == ["2025-12-01", "00:00", "left", "gyro", "gyro", "replaced", "C.", "Invented"]
    (one,) = json.loads(asked(maintenance, "X-LARK", "--json", *place))
    assert (one["series"], one["at"]) == ("left gyro", 1_764_547_200.0)


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("lark", "--done", "x"), "say who did it"),
        (("lark", "--done", "x", "--by", "C", "--series", "right gyro"), "it has: left gyro, volts"),
        (("lark", "--done", "x", "--by", "C", "--at", "noon"), '"noon" is no time'),
    ],
)
def test_maintenance_that_does_not_fit_is_refused(tmp_path: Path, words: tuple[str, ...], why: str) -> None:
    """Nothing is recorded then."""
    write_run(tmp_path)
    with pytest.raises(UsageError, match=why):
        asked(maintenance, *words, *_place(tmp_path))
    assert asked(maintenance, "lark", *_place(tmp_path)) == "no maintenance recorded\n"


def test_a_run_of_many_entries_is_shown_in_full(tmp_path: Path) -> None:
    """Every kind of entry has a line; none is left out."""
    run = write_run(tmp_path)
    shown = asked(show, run, *_place(tmp_path))
    for words in ("run started", "cautions taken", "clock started", "reopened", "run completed"):
        assert words in shown
    assert len(list(whole_run())) == 12
