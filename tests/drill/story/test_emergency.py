"""The emergency: true answers reckoned from the airplane, found by who looks; a hand-over judged."""

from pathlib import Path

import pytest

from runner.checklist.format.check import Check
from runner.checklist.format.check_load import parse_check
from runner.drill.judged.judgement import AnswerVerdict
from runner.drill.story.drill_story import DrillStory
from runner.drill.story.emergency import ONSET_SECONDS, invent_emergency
from runner.drill.story.solvable import prove
from tests.drill.player import Student, as_seen, perfect
from tests.drill.sample import CASES, ON, drilled


def emergency(number: int, seed: int) -> tuple[DrillStory, Check]:
    """Of a shipped airplane."""
    airplane, _ = drilled(number)
    found = invent_emergency(airplane, airplane.name, ON, level=5, seed=seed)
    return found.story, parse_check(found.check_text, Path("emergency.yaml"))


@pytest.mark.parametrize("number", range(len(CASES)))
@pytest.mark.parametrize("seed", range(4))
def test_every_emergency_is_solved_by_who_looks(number: int, seed: int) -> None:
    """Each fault shows beside the others; whoever looks and knows the airplane answers all of it."""
    story, check = emergency(number, seed)
    proof = prove(check, story.setting, story.around)
    assert (proof.unsolvable, proof.halts) == ((), ())
    judgement = perfect(story, check).judgement
    assert judgement is not None
    assert set(judgement.caught) == set(story.setting.hidden)
    assert {answer.verdict for answer in judgement.answers} == {AnswerVerdict.RIGHT}


def test_control_that_is_kept_by_the_poorer_seat_is_told() -> None:
    """On the Merlow the left seat keeps more: who sits right and keeps control is told so."""
    story, check = next(
        found
        for found in (emergency(0, seed) for seed in range(20))
        if found[0].around["control"] == "you have control"
    )
    assert story.around["fuller seat"] == "left seat"

    def stubborn(student: Student, item: object) -> str:
        name = getattr(item, "name", "")
        return "I keep control" if name == "control" else as_seen(student, check.item(name))

    judgement = Student(story, check, stubborn).perform().judgement
    assert judgement is not None
    (wrong,) = (each for each in judgement.answers if each.verdict is not AnswerVerdict.RIGHT)
    assert (wrong.item, wrong.truth) == ("control", "you have control")


def test_it_begins_with_everything_well_and_the_same_seed_tells_the_same() -> None:
    """The generators go some seconds later."""
    story, _ = emergency(0, 3)
    assert story == emergency(0, 3)[0]
    assert story.setting.is_flying
    assert {each.comes_at for each in story.setting.hidden} == {0.0, ONSET_SECONDS}
