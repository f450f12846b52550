"""Syllabus files: what is read, every mistake at its place, and the schema beside them."""

import json
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from runner.command.due import read_syllabus
from runner.drill.due.practice import PracticeKind
from runner.drill.due.syllabus import ROW_OPTIONAL, SYLLABUS_OPTIONAL, SYLLABUS_REQUIRED, parse_syllabus
from runner.errors import FileError
from tests.checklist.shipped import FOLDER

SHIPPED = FOLDER / "syllabus" / "first-stage.yaml"
TEXT = SHIPPED.read_text(encoding="utf-8")
SCHEMA: dict[str, Any] = json.loads((FOLDER / "schema" / "syllabus.schema.json").read_text(encoding="utf-8"))


def test_the_shipped_syllabus_says_what_is_in_it() -> None:
    """A quiz, a recitation and a drill, each with its own keys."""
    syllabus = read_syllabus(SHIPPED)
    assert (syllabus.title, syllabus.recall_percent) == ("Reserve bus, first stage", 90)
    quiz, recite, drill = syllabus.standard
    assert (quiz.kind, quiz.of, quiz.questions, quiz.level) == (PracticeKind.QUIZ, "merlow-ml2", 10, 0)
    assert (recite.kind, recite.within_days, recite.right_percent) == (PracticeKind.RECITE, 14, 90)
    assert (drill.kind, drill.level, drill.questions) == (PracticeKind.DRILL, 2, 0)


MISTAKES: tuple[tuple[tuple[str, str], str], ...] = (
    (
        ("recall: 90 percent", "recall: 99 percent"),
        ':5:9: "99 percent" is out of range; write 70 to 97 percent',
    ),
    (
        ("recall: 90 percent", "recall: 90"),
        ':5:9: "90" is not a whole number of percent; write 70 to 97 percent',
    ),
    (("recall:", "recal:"), ':5:1: unknown key "recal"; did you mean "recall"?'),
    (
        ("    questions: 10", "    question: 10"),
        ':8:5: standard 1: unknown key "question"; did you mean "questions"?',
    ),
    (
        ("    questions: 10", "    questions: ten"),
        ':8:16: standard 1: "ten" is not a whole number; write 1 to 100',
    ),
    (("    level: 2", "    level: 9"), '9" is out of range; write 1 to'),
    (("    level: 2", "    questions: 2"), ':15:16: standard 3: only a quiz has "questions"; remove it'),
    (
        ("  - recite: merlow-reserve\n    right", "  - right"),
        ":11:5: standard 2: nothing is asked for; write one of",
    ),
    (("    level: 2", "    quiz: merlow-ml2"), ":14:5: standard 3: two things are asked for; write one of"),
    (
        ("    within: 14 days", "    within: 2 weeks"),
        'standard 2: "2 weeks" is not a whole number of days; write 1 to 400',
    ),
    (("    within: 14 days\n", ""), ':11:5: standard 2: "within" is missing; add "within: 30 days"'),
    (("quiz: merlow-ml2", "quiz: merlow-ml3"), ':7:11: no airplane "merlow-ml3"; did you mean "merlow-ml2"?'),
    (("recite: merlow-reserve", "recite: merlow-reserv"), ':11:13: no check "merlow-reserv"; did you mean'),
)


@pytest.mark.parametrize(("edit", "told"), MISTAKES, ids=[edit[1].strip() for edit, _ in MISTAKES])
def test_each_mistake_is_told_with_file_line_and_column(
    edit: tuple[str, str], told: str, tmp_path: Path
) -> None:
    """And with what to write instead."""
    assert TEXT.count(edit[0]) == 1
    path = tmp_path / "mine.yaml"
    path.write_text(TEXT.replace(*edit), encoding="utf-8")
    with pytest.raises(FileError) as error:
        read_syllabus(path)
    assert str(error.value).startswith(f"{path}:")
    assert told in str(error.value)


def test_all_mistakes_are_told_at_once() -> None:
    """Two lines for two."""
    text = TEXT.replace("within: 14 days", "within: 14").replace("level: 2", "level: two")
    with pytest.raises(FileError) as error:
        parse_syllabus(text, Path("mine.yaml"))
    assert str(error.value).count("mine.yaml:") == 2


def test_a_number_without_end_is_no_number() -> None:
    """More digits than Python reads at once, told as any other mistake."""
    text = TEXT.replace("    level: 2", f"    level: {'9' * 5000}")
    with pytest.raises(FileError, match="is not a whole number; write 1 to"):
        parse_syllabus(text, SHIPPED)


def test_the_schema_knows_the_keys_of_the_loader() -> None:
    """It is valid, takes the shipped file, and has no key more or less."""
    Draft202012Validator.check_schema(SCHEMA)
    validator = Draft202012Validator(SCHEMA)
    assert list(validator.iter_errors(yaml.safe_load(TEXT))) == []
    assert set(SCHEMA["properties"]) == {*SYLLABUS_REQUIRED, *SYLLABUS_OPTIONAL}
    assert SCHEMA["required"] == [*SYLLABUS_REQUIRED]
    assert set(SCHEMA["properties"]["standard"]["items"]["properties"]) == {*ROW_OPTIONAL}
    for edit, told in MISTAKES:
        if "did you mean" in told and "unknown key" not in told:
            continue  # which checks there are, no schema knows
        if "out of range" in told:
            continue  # bounds are the loader's
        assert list(validator.iter_errors(yaml.safe_load(TEXT.replace(*edit)))), told
