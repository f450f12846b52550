"""`eyesout recite`: typed lines, doubts cleared up or left, corrections, and what is kept."""

import io
import json
from pathlib import Path

import pytest

from runner.cli import main
from runner.drill.due.practice import PracticeGrade, PracticeKind
from runner.errors import RecordError
from runner.logbook.drilled.practice_book import PracticeBook
from runner.logbook.record.run_store import FILE as REAL

SMALL = str(Path(__file__).parents[1] / "drill" / "recited" / "small.yaml")


def recite(
    lines: list[str], folder: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...] = ()
) -> int:
    """A recitation by typed lines."""
    monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))
    return main(["recite", SMALL, "--by", "Ann", "--logbook", str(folder), *words])


def test_a_flow_from_memory_is_judged_and_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One taken back, one doubt cleared up and one left, a swap, an omission, a foreign line."""
    lines = [
        *("people", "cover", "undo", "lamp switch off", "lamp", "tank", "oil dipstick", "flow complete", ""),
        *("1", ""),  # "lamp" is the first that it may be; "tank" stays in doubt
        "",
    ]
    assert recite(lines, tmp_path, monkeypatch) == 0
    shown = capsys.readouterr().out
    assert "Lamp switch on" not in shown, "challenges stay hidden"
    assert 'DRILL  "lamp" may be: 1 lamp on, 2 lamp off; 0 none of these' in shown
    assert '"tank" in doubt' in shown
    judged = shown.split("DRILL  Small flow, for any airplane: ")[1]
    assert judged.startswith("4 of 6, 1 of them in doubt")
    assert "left out\n  cover" in judged
    assert "both move the lamp switch" in judged
    assert 'not in this check\n  "oil dipstick"' in judged
    assert "A drill is no flight training" in judged
    with PracticeBook(tmp_path) as book:
        kept = {each.subject: each for each in book.practised("Ann")}
    assert kept["cover"].grade is PracticeGrade.WRONG
    assert kept["people"].grade is PracticeGrade.RIGHT
    assert kept["people"].is_critical
    assert PracticeGrade.SLOW in {kept["lamp on"].grade, kept["lamp off"].grade}
    assert "tanks" not in kept, "what is in doubt is not held against anybody later"
    assert {(each.sitting.kind, each.sitting.of) for each in kept.values()} == {
        (PracticeKind.RECITE, "small")
    }
    assert not (tmp_path / REAL).exists()


def test_a_line_that_was_taken_wrongly_is_corrected_before_it_is_judged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """What was understood is shown; a line that is none is told; the score is full in the end."""
    flow = ["tanks", "cover", "people", "lamp on", "oops", "tip caps", "call", ""]
    assert recite([*flow, "9 x", "5 lamp off", ""], tmp_path, monkeypatch) == 0
    shown = capsys.readouterr().out
    assert '"oops" like nothing in this check' in shown
    assert '"9 x" is no line; write its number, 1 to 7, and the right words' in shown
    assert "DRILL  Small flow, for any airplane: 7 of 7\n" in shown


def test_as_json_the_judgement_alone_is_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The questions go to the other stream."""
    assert recite(["people", "", ""], tmp_path, monkeypatch, ("--json",)) == 0
    told = capsys.readouterr()
    assert json.loads(told.out)["right"] == ["people"]
    assert "from memory" in told.err


@pytest.mark.parametrize("lines", [["people", "q"], [""], []])
def test_who_leaves_or_says_nothing_keeps_nothing(
    lines: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 1."""
    assert recite(lines, tmp_path, monkeypatch) == 1
    assert "DRILL  left; nothing is kept" in capsys.readouterr().out
    with PracticeBook(tmp_path) as book:
        assert book.practised("Ann") == ()


def test_a_check_that_is_not_there_gets_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    """With the nearest."""
    assert main(["recite", "merlow-reserv"]) == 2
    assert 'did you mean "merlow-reserve"' in capsys.readouterr().err


def test_a_folder_that_can_keep_nothing_is_told_of_before_anybody_recites(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One line, and no flow is asked for."""
    (tmp_path / "file").write_text("no folder")
    assert recite(["people", "", ""], tmp_path / "file" / "x", monkeypatch) == RecordError.exit_code
    shown = capsys.readouterr()
    assert shown.err.endswith("Not a directory; name another folder\n")
    assert shown.out == ""


@pytest.mark.parametrize("typed", ["00", "3", "9" * 5000, "²"])
def test_a_number_that_stands_for_nothing_leaves_a_line_in_doubt(
    typed: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """However it is written; "lamp" may be two things."""
    assert recite(["people", "lamp", "", typed, f"{typed} lamp on", ""], tmp_path, monkeypatch) == 0
    shown = capsys.readouterr().out
    assert '"lamp" in doubt' in shown
    assert "is no line; write its number, 1 to 2" in shown
