"""`eyesout quiz`: typed answers, what is kept of them, and one line for every mistake."""

import io
import json
from pathlib import Path

import pytest

from runner.cli import main
from runner.drill.due.practice import PracticeGrade, PracticeKind
from runner.logbook.drilled.practice_book import PracticeBook
from runner.logbook.record.run_store import FILE as REAL

ASKED = ["quiz", "tarn-qx83", "--seed", "5", "--count", "4"]


def right_numbers(capsys: pytest.CaptureFixture[str]) -> list[int]:
    """The numbers of the right answers of the same quiz, from its JSON."""
    assert main([*ASKED, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["is_drill"] is True
    return [each["right"] + 1 for each in told["questions"]]


def test_answers_by_keys_are_told_right_or_wrong_and_kept_apart(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Three right, one wrong, one line that is no answer; the word DRILL at every question."""
    rights = right_numbers(capsys)
    wrong = rights[3] % 3 + 1
    typed = [str(rights[0]), "perhaps", *map(str, rights[1:3]), str(wrong)]
    monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(typed) + "\n"))
    assert main([*ASKED, "--by", "Ann", "--logbook", str(tmp_path)]) == 0
    shown = capsys.readouterr().out
    assert "DRILL  3 of 4  On the battery alone" in shown
    assert '"perhaps" is no answer here; type 1 to' in shown
    assert "DRILL  3 of 4 right" in shown
    assert "A drill is no flight training" in shown
    with PracticeBook(tmp_path) as book:
        kept = book.practised("Ann")
        assert book.practised("Bob") == ()
    assert [each.grade for each in kept] == [PracticeGrade.RIGHT] * 3 + [PracticeGrade.WRONG]
    assert {(each.sitting.kind, each.sitting.of) for each in kept} == {(PracticeKind.QUIZ, "tarn-qx83")}
    assert not (tmp_path / REAL).exists()
    monkeypatch.setattr("sys.stdin", io.StringIO(f"{rights[0]}\nq\n"))
    assert main([*ASKED, "--by", "Ann", "--logbook", str(tmp_path)]) == 1
    assert "DRILL  1 of 1 right; before, 3 of 4 on this airplane" in capsys.readouterr().out


@pytest.mark.parametrize("typed", ["", "q\n"])
def test_who_leaves_is_told_how_far_it_went(
    typed: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Exit code 1, and no answer is taken for wrong."""
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    assert main([*ASKED, "--logbook", str(tmp_path)]) == 1
    assert "DRILL  0 of 0 right" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["tarn-qx38"], 'no airplane "tarn-qx38"; did you mean "tarn-qx83"?'),
        (["tarn-qx83", "--count", "0"], "--count: 0 is out of range; write 1 to 100"),
        (["tarn-qx83", "--seed", "x"], '--seed: "x" is no whole number'),
    ],
)
def test_a_mistake_gets_one_line(words: list[str], line: str, capsys: pytest.CaptureFixture[str]) -> None:
    """It says what, and what to write instead."""
    assert main(["quiz", *words]) == 2
    told = capsys.readouterr().err.strip()
    assert line in told
    assert "\n" not in told
