"""A drill's judgement as practice: items in their situations, and faults that no answer showed."""

from dataclasses import replace

from runner.drill.due.practice import PracticeGrade, PracticeKind, Sitting
from runner.drill.due.practised import ALL_WELL, practice_of_drill
from tests.drill.debrief.test_drill_debrief import LAMP, story_of, told
from tests.drill.player import careless, perfect
from tests.drill.sample import drilled

SITTING = Sitting("d1", 0.0, "Ann", PracticeKind.DRILL, "merlow-reserve", level=1)


def test_an_answer_stands_in_the_situation_that_its_fault_made() -> None:
    """Caught, it is right in that situation; missed, it is wrong there; all else was as usual."""
    _, check = drilled(0)
    story = story_of(LAMP)
    for perform, grade in ((perfect, PracticeGrade.RIGHT), (careless, PracticeGrade.WRONG)):
        lines = list(practice_of_drill(check, told(story, perform(story, check)), SITTING))
        (lamps,) = (each for each in lines if each.situation != ALL_WELL)
        assert (lamps.subject, lamps.situation, lamps.grade) == ("gear lamps", str(LAMP), grade)
        assert {each.subject for each in lines} <= {item.name for item in check.items}
        dear = {item.name for item in check.items if item.critical or item.restores}
        assert {each.subject for each in lines if each.is_critical} == dear & {each.subject for each in lines}


def test_a_fault_that_was_called_and_never_answered_has_a_line_of_its_own() -> None:
    """And none when it could not be seen, as the drill went."""
    _, check = drilled(0)
    story = story_of(LAMP)
    debrief = told(story, perfect(story, check))
    (fault,) = debrief.judgement.faults
    bare = replace(debrief.judgement, answers=())
    (line,) = practice_of_drill(check, replace(debrief, judgement=bare), SITTING)
    assert (line.subject, line.situation, line.grade) == ("gear lamps", str(LAMP), PracticeGrade.RIGHT)
    assert line.is_critical
    unseen = replace(bare, faults=(replace(fault, seen_at=None, caught_at=None),))
    assert list(practice_of_drill(check, replace(debrief, judgement=unseen), SITTING)) == []
