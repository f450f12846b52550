"""What is due, in which order, and what a standard makes of sittings."""

from dataclasses import replace
from pathlib import Path

import pytest

from runner.drill.due.due_list import DAY_SECONDS, due_things, judged_standard
from runner.drill.due.practice import Practice, PracticeGrade, PracticeKind, Sitting
from runner.drill.due.syllabus import StandardRow
from runner.errors import Place

NOW = 100 * DAY_SECONDS
RECITED = Sitting("r1", 90 * DAY_SECONDS, "Ann", PracticeKind.RECITE, "merlow-reserve")
DRILLED = Sitting("d1", 90 * DAY_SECONDS, "Ann", PracticeKind.DRILL, "merlow-reserve", level=2)
QUIZZED = Sitting("q1", 90 * DAY_SECONDS, "Ann", PracticeKind.QUIZ, "merlow-ml2")
RIGHT, SLOW, WRONG = PracticeGrade.RIGHT, PracticeGrade.SLOW, PracticeGrade.WRONG


def line(sitting: Sitting, subject: str, grade: PracticeGrade, *, critical: bool = False) -> Practice:
    """At the beginning of its sitting."""
    return Practice(sitting, sitting.begun_at, subject, "from memory", critical, grade)


def row(sitting: Sitting, **changes: object) -> StandardRow:
    """A row that asks for such a sitting within 30 days."""
    level = sitting.level
    made = StandardRow(sitting.kind, sitting.of, level, 0, 30, 90, Place(Path("s.yaml"), 1, 1))
    return replace(made, **changes)  # type: ignore[arg-type]  # fields by name


def test_critical_things_come_first_and_then_what_is_forgotten_most() -> None:
    """Whatever its order of practice."""
    practised = [
        line(RECITED, "known", RIGHT),
        line(RECITED, "lost", WRONG),
        line(RECITED, "dear and known", RIGHT, critical=True),
        line(RECITED, "dear and lost", WRONG, critical=True),
    ]
    found = due_things(practised, NOW, 90)
    assert [each.subject for each in found] == ["dear and lost", "dear and known", "lost", "known"]
    assert all(each.memory.due_at <= NOW for each in found)


def test_a_thing_is_one_item_in_one_situation() -> None:
    """The same item from memory, drilled, and drilled with a fault are three; twice the same is one."""
    practised = [
        line(RECITED, "flood lamps", RIGHT),
        line(DRILLED, "flood lamps", RIGHT),
        replace(line(DRILLED, "flood lamps", WRONG), situation="left: bulb out"),
        line(replace(RECITED, name="r2"), "flood lamps", RIGHT),
    ]
    found = due_things(practised, NOW, 90)
    assert sorted(each.memory.times for each in found) == [1, 1, 2]


@pytest.mark.parametrize(
    ("changes", "is_met"),
    [
        ({}, True),
        ({"right_percent": 91}, False),
        ({"of": "tarn-reserve"}, False),
        ({"of": "../checks/merlow-reserve.yaml"}, True),
        ({"kind": PracticeKind.DRILL}, False),
    ],
)
def test_a_sitting_meets_a_standard_by_kind_check_and_share(changes: dict[str, object], is_met: bool) -> None:  # noqa: FBT001 - a parameter of the test
    """Nine of ten right; what was slow is not right."""
    practised = [line(RECITED, str(number), RIGHT) for number in range(9)] + [line(RECITED, "9", SLOW)]
    (judged,) = judged_standard([row(RECITED, **changes)], practised, NOW)
    assert (judged.met_at is not None) == is_met
    assert judged.is_current == is_met


def test_a_standard_lapses_with_its_days() -> None:
    """Ten days ago is current within ten and lapsed within nine."""
    practised = [line(RECITED, "a", RIGHT)]
    ten, nine = judged_standard([row(RECITED, within_days=days) for days in (10, 9)], practised, NOW)
    assert (ten.is_current, nine.is_current) == (True, False)
    assert nine.met_at == RECITED.begun_at


def test_a_drill_counts_at_its_level_and_when_it_was_finished() -> None:
    """A higher level does, a lower one does not, and one that was left does not."""
    practised = [line(DRILLED, "a", RIGHT)]
    rows = [row(DRILLED, level=level) for level in (1, 2, 3)]
    assert [each.is_current for each in judged_standard(rows, practised, NOW)] == [True, True, False]
    left = [line(replace(DRILLED, is_whole=False), "a", RIGHT)]
    assert [each.is_current for each in judged_standard(rows, left, NOW)] == [False, False, False]


def test_a_quiz_counts_with_enough_questions() -> None:
    """One right answer is no quiz."""
    practised = [line(QUIZZED, str(number), RIGHT) for number in range(4)]
    four, five = judged_standard([row(QUIZZED, questions=count) for count in (4, 5)], practised, NOW)
    assert (four.is_current, five.is_current) == (True, False)
