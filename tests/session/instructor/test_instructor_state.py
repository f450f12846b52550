"""What the page is told: the truth, what the student sees, and what went on."""

import pytest

from runner.core.event import Answered, Channel
from runner.drill.drill_act import desk_meaning
from runner.drill.drill_event import WordsRefused
from runner.drill.story.drill_story import invent_story
from runner.language.catalogue import Word
from runner.language.meaning import Command, Picked
from runner.session.instructor.instructor_state import InstructorTimeline
from tests.drill.sample import ON, drilled
from tests.drill.test_drill_event import EVERY
from tests.session.instructor.beside import BULB, GYRO, START, Beside


def test_the_true_state_names_what_the_student_is_not_told() -> None:
    """The hidden fault, beside a panel in which no fault is named."""
    drill = Beside()
    state = drill.state
    assert [each["words"] for each in state["faults"]] == [str(BULB)]
    assert state["faults"][0]["is_there"]
    assert not state["faults"][0]["is_tripped"]
    assert str(BULB) not in str(state["panel"])


def test_volts_are_the_solvers() -> None:
    """Each bus as the played airplane has it; the reserve bus is dead until its selector moves."""
    drill = Beside()
    drill.answer(Command(Word.CONTINUE), "continue")
    before = {each["name"]: each["volts"] for each in drill.state["buses"]}
    drill.answer(desk_meaning("selector to reserve"), "selector to reserve")
    after = {each["name"]: each["volts"] for each in drill.state["buses"]}
    assert before["reserve bus"] == 0
    assert after == {
        name: pytest.approx(each, abs=0.051) for name, each in drill.desk.played.flow.volts.items()
    }
    assert after["reserve bus"] > 20


def test_the_panel_is_the_students_own() -> None:
    """Row for row what stands on the student's screen."""
    drill = Beside()
    rows = [row for part in drill.state["panel"] for row in part["rows"]]
    assert drill.view.drill is not None
    assert rows == [
        {"name": row.name, "shape": row.shape, "words": row.words} for row in drill.view.drill.rows
    ]


def test_the_timeline_has_both_sides() -> None:
    """What is asked, answered, moved, called, tripped and remarked, each at its second and by whom."""
    drill = Beside()
    drill.answer(Command(Word.CONTINUE), "continue")
    drill.answer(Picked("people", "nobody near"), "nobody near")
    drill.answer(desk_meaning("selector to reserve"), "selector to reserve")
    drill.answer(desk_meaning("left attitude is wrong"), "left attitude is wrong")
    drill.obey({"order": "trip", **GYRO})
    drill.obey({"order": "remark", "by": "Bea", "words": "slowly"})
    lines = [(line["seconds"], line["who"], line["words"]) for line in drill.state["timeline"]]
    for expected in (
        (6.0, "student", "“nobody near”"),
        (6.0, "eyesout", "Ground power."),
        (9.0, "student", "moves feed selector: reserve"),
        (12.0, "student", "calls left attitude wrong"),
        (13.0, "instructor", "trips left attitude gyro: tumbles"),
        (14.0, "Bea", "slowly"),
    ):
        assert expected in lines
    assert not any("selector to reserve" in words for _, _, words in lines)
    assert [line["number"] for line in drill.state["timeline"]] == list(range(1, len(lines) + 1))


def test_every_event_has_a_line() -> None:
    """Of all kinds that there are, in a story in which somebody comes."""
    airplane, check = drilled(0)
    timeline = InstructorTimeline(invent_story(check, airplane, ON, level=3, seed=3), START)
    for event in EVERY:
        timeline.happen(event)
    words = [line["words"] for line in timeline.lines]
    assert len(words) == len(EVERY)
    assert "“roger” answers nothing" in words
    assert "signed off by Ann: standard met; well looked" in words


def test_what_was_not_understood_stands_there_without_words() -> None:
    """An ellipsis for what could not be made out."""
    drill = Beside()
    drill.timeline.happen(WordsRefused(START, "", "not sure enough"))
    assert drill.timeline.lines[-1]["words"] == "“…” not sure enough"


def test_only_the_newest_lines_travel() -> None:
    """The record has all of them; numbers go on."""
    drill = Beside()
    for second in range(250):
        answered = Answered(START + second, 1, Command(Word.WHY), "why", 1.0, START + second, Channel.KEYS)
        drill.timeline.hear(START + second, answered)
    lines = drill.timeline.lines
    assert len(lines) == 200
    assert lines[-1]["number"] - lines[0]["number"] == 199
