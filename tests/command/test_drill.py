"""`eyesout drill`: every mistake gets one line, a whole drill by typed lines, lists and debriefs."""

import io
import json
from pathlib import Path

import pytest

from runner.cli import main
from runner.logbook.drilled.drill_book import DrillBook
from runner.logbook.record.run_store import FILE as REAL

MISTAKES: tuple[tuple[list[str], str], ...] = (
    (["merlow-reserve", "--fault", "left attitude giro: dead"], 'did you mean "left attitude gyro: dead"'),
    (["merlow-reserve", "--fault", "left attitude gyro"], "can be wrong in several ways"),
    (["merlow-reserve", "--fault", "x"], 'no fault "x"; `--faults` lists what there is'),
    (["merlow-reserve", "--fault", "weather radar: dead"], "nobody could notice weather radar: dead"),
    (["merlow-reserve", "--level", "9"], "--level: 9 is out of range; write 1 to"),
    (["merlow-reserve", "--seed", "seven"], '--seed: "seven" is no whole number'),
    (["merlow-reserve", "--random", "12"], "--random: 12 is out of range"),
    (["merlow-reserve", "--random", "1", "--fault", "x"], "not allowed with"),
    (["walk-round"], "a drill plays an airplane, and walk-round is for any"),
    (["merlow-reserv"], 'did you mean "merlow-reserve"'),
    ([], "name a check"),
    (["--debrief", "d9"], 'no drill "d9"'),
)


@pytest.mark.parametrize(("words", "line"), MISTAKES, ids=lambda each: " ".join(each)[:30])
def test_mistakes_get_one_line(
    words: list[str], line: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It says what, and what to write instead."""
    assert main(["drill", *words, "--logbook", str(tmp_path), "--keys", "--plain"]) != 0
    told = capsys.readouterr().err.strip()
    assert line in told
    assert "\n" not in told


def drill(lines: list[str], words: list[str], folder: Path, monkeypatch: pytest.MonkeyPatch) -> int:
    """A drill by typed lines."""
    monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))
    return main(["drill", *words, "--keys", "--plain", "--logbook", str(folder)])


def test_a_drill_by_typed_lines(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The word DRILL, hands, a look, a call; then the debrief, the list, and no real record."""
    lines = [
        "continue",
        "selector to reserve",
        "flood dimmer on",
        "flood lamps",
        "flood lamps is wrong",
        "panel",
    ]
    words = ["merlow-reserve", "--fault", "flood lamps, left: bulb out", "--by", "Ann", "--seed", "4"]
    assert drill(lines, words, tmp_path, monkeypatch) == 1
    shown = capsys.readouterr().out
    assert "[DRILL answer]" in shown
    assert "told: Flood lamps: right lit, left dark." in shown
    assert "You caught 1 of 1 fault and invented none." in shown
    assert "A drill is no flight training" in shown
    assert not (tmp_path / REAL).exists()
    assert main(["drill", "--list", "--logbook", str(tmp_path)]) == 0
    assert "1 of 1" in capsys.readouterr().out
    assert main(["drill", "--debrief", "--json", "--logbook", str(tmp_path)]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["is_drill"], told["figures"]["caught"], told["seed"]) == (True, 1, 4)


def test_an_emergency_has_a_check_of_its_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Night, cloud and a smell; its debrief is judged by the airplane in the air."""
    lines = ["continue", "generators lost", "selector to reserve", "reserve selected"]
    words = ["merlow-reserve", "--level", "5", "--seed", "3"]
    assert drill(lines, words, tmp_path, monkeypatch) == 1
    shown = capsys.readouterr().out
    assert "Night, in cloud. Something smells hot." in shown
    assert "Which seat keeps more" not in shown.split("item 3 of")[0]
    assert "A drill is no flight training" in shown
    assert main(["drill", *words, "--fault", "x", "--logbook", str(tmp_path)]) == 2
    assert "level 5 has a fault of its own" in capsys.readouterr().err


def test_faults_that_can_be_hidden_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    """Each by the words with which it is asked for."""
    assert main(["drill", "merlow-reserve", "--faults", "--json"]) == 0
    known = json.loads(capsys.readouterr().out)
    assert "flood lamps, left: bulb out" in known
    assert "left attitude gyro: tumbles" in known


def test_a_rehearsal_is_kept_with_the_drills(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A plain run with the word DRILL on it, and nothing among the airplane's records."""
    monkeypatch.setattr("sys.stdin", io.StringIO("continue\nnobody near\n"))
    words = ["run", "merlow-reserve", "--rehearse", "--keys", "--plain", "--logbook", str(tmp_path)]
    assert main(words) == 1
    shown = capsys.readouterr().out
    assert "[DRILL answer]" in shown
    assert "A drill is no flight training" in shown
    assert not (tmp_path / REAL).exists()
    with DrillBook(tmp_path) as book:
        assert [each.level for each in book.drills()] == [0]
    assert main(["drill", "--debrief", "--logbook", str(tmp_path)]) == 2
    assert "plain rehearsal" in capsys.readouterr().err


@pytest.mark.parametrize("more", [["--resume"], ["--pilot", "merlow-pilot"]])
def test_a_rehearsal_is_for_people_and_begins_anew(
    more: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One line for what it cannot be joined with."""
    assert main(["run", "merlow-reserve", "--rehearse", *more, "--logbook", str(tmp_path)]) == 2
    assert "rehears" in capsys.readouterr().err
