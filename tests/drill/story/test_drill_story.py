"""Invented stories: solvable by a perfect student, of different looks, the same from the same seed."""

import pytest

from runner.checklist.kind.choice import Choice
from runner.drill.played.hidden import Hidden, HiddenKind, hidden_faults_of
from runner.drill.story.drill_level import LEVELS
from runner.drill.story.drill_story import hideable, invent_story, positions_of
from runner.drill.story.solvable import prove
from runner.errors import UsageError
from tests.drill.player import perfect
from tests.drill.sample import CASES, ON, drilled

STORIES = 200
GROUND = [number for number, level in LEVELS.items() if not level.is_emergency]


@pytest.mark.parametrize("tenth", range(10))
def test_a_perfect_student_finds_exactly_what_is_hidden(tenth: int) -> None:
    """Two hundred stories of all levels and airplanes: what is hidden is caught, and nothing invented."""
    for seed in range(tenth, STORIES, 10):
        airplane, check = drilled(seed % len(CASES))
        story = invent_story(check, airplane, ON, level=GROUND[seed // 3 % len(GROUND)], seed=seed)
        judgement = perfect(story, check).judgement
        assert judgement is not None
        assert set(judgement.caught) == set(story.setting.hidden), seed
        assert judgement.invented == (), seed
        assert judgement.missed == judgement.unseen == ()


def test_the_same_seed_tells_the_same_story() -> None:
    """And another seed another."""
    airplane, check = drilled(0)
    one, other = (invent_story(check, airplane, ON, level=4, seed=7) for _ in range(2))
    assert one == other
    assert {invent_story(check, airplane, ON, level=1, seed=seed).setting.hidden for seed in range(12)} != {
        one.setting.hidden
    }


def test_what_is_hidden_looks_like_nothing_else() -> None:
    """A breaker that lets go of one lamp is told from the lamp; two ends of one feeder are not."""
    airplane, check = drilled(0)
    names = {str(each) for each in hideable(check, airplane)}
    assert {"floods: breaker out", "flood lamps: dead"} <= names
    assert "reserve relay: does not close" in names
    alike = {"left tie limiter: open", "right tie limiter: open"}
    assert not alike & names


def test_a_level_adds_to_the_one_before() -> None:
    """More faults, then a departure, then people, then noise."""
    airplane, check = drilled(0)
    stories = [invent_story(check, airplane, ON, level=level, seed=5) for level in GROUND]
    assert [len(story.setting.hidden) for story in stories] == [1, 2, 2, 3]
    assert [story.allowed_seconds is not None for story in stories] == [False, True, True, True]
    assert [len(story.interruptions) for story in stories] == [0, 0, 2, 3]


def test_a_named_fault_that_nobody_could_notice_is_refused() -> None:
    """One line says so, and where to look for others."""
    airplane, check = drilled(0)
    fault = Hidden(HiddenKind.DEAD, "weather radar")
    with pytest.raises(UsageError, match="nobody could notice weather radar: dead in merlow-reserve"):
        invent_story(check, airplane, ON, level=1, seed=1, faults=[fault])


def test_too_many_faults_are_refused() -> None:
    """A check shows only so much at once."""
    airplane, check = drilled(2)
    with pytest.raises(UsageError, match="shows too little for 90 faults at once"):
        invent_story(check, airplane, ON, level=1, seed=1, count=90)


def test_choices_go_one_way_for_good() -> None:
    """What is fitted in this tail is settled by the story, so that an answer to it can be judged."""
    airplane, check = drilled(0)
    story = invent_story(check, airplane, ON, level=1, seed=2)
    chosen = [item.name for item in check.items if isinstance(item.body, Choice)]
    assert set(chosen) <= set(story.around)


def test_a_fault_hidden_behind_another_is_not_told() -> None:
    """With the reserve dead nobody sees that one of its lamps is out."""
    airplane, check = drilled(0)
    story = invent_story(check, airplane, ON, level=1, seed=2, count=0)
    relay = Hidden(HiddenKind.NOT_CLOSING, "reserve relay")
    lamp = Hidden(HiddenKind.BULB_OUT, "flood lamps", "left")
    assert {relay, lamp} <= set(hidden_faults_of(airplane))
    setting = story.setting
    for faults, solved in (((relay,), [True]), ((lamp,), [True]), ((relay, lamp), [True, False])):
        hidden = type(setting)(airplane, faults, ON, setting.seed, setting.off)
        assert [each.is_solvable for each in prove(check, hidden, story.around).faults] == solved
    assert positions_of(check, airplane) == ("off", "reserve")
