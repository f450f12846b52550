"""The debrief: what was hidden, when it showed, what it took; three sentences, and no mark."""

from dataclasses import replace

from runner.core.plan import plan_on_ground
from runner.drill.debrief.debrief_words import NO_TRAINING, debrief_blocks, spoken_debrief
from runner.drill.debrief.drill_debrief import DrillDebrief, DrillTape, debrief_of
from runner.drill.drill_event import HandMoved, WordsRefused
from runner.drill.played.hidden import Hidden, HiddenKind
from runner.drill.story.drill_story import DrillStory, invent_story
from runner.language.breath import spoken_seconds
from tests.drill.player import START, Performance, careless, perfect
from tests.drill.sample import ON, drilled

LAMP = Hidden(HiddenKind.BULB_OUT, "gear lamps", "nose")
DEAF = Hidden(HiddenKind.DEAF, "navigation 1")


def story_of(*faults: Hidden, level: int = 1) -> DrillStory:
    """On the Merlow."""
    airplane, check = drilled(0)
    return invent_story(check, airplane, ON, level=level, seed=3, faults=faults)


def told(story: DrillStory, done: Performance, **more: object) -> DrillDebrief:
    """The debrief of a performance."""
    airplane, check = drilled(0)
    tape = DrillTape(START, done.ended_at, done.entries, done.events)
    debrief = debrief_of(
        story, plan_on_ground(check, airplane.selector.parked), tape, student="Ann", before=()
    )
    return replace(debrief, **more)  # type: ignore[arg-type] # fields of the debrief, by name


def text_of(debrief: DrillDebrief) -> str:
    """All of it."""
    return "\n".join(f"{head}\n" + "\n".join(lines) for head, lines in debrief_blocks(debrief))


def test_the_perfect_student_is_told_so() -> None:
    """Both caught, none invented, and by what."""
    _, check = drilled(0)
    story = story_of(LAMP, DEAF)
    debrief = told(story, perfect(story, check))
    first, second, third = spoken_debrief(debrief)
    assert first == "You caught 2 of 2 faults and invented none."
    assert second == "Every answer was as the panel showed."
    assert third.startswith("It took ")
    assert "caught   gear lamps, nose: bulb out; by gear lamps at" in text_of(debrief)


def test_the_careless_student_is_told_when_it_showed() -> None:
    """What was missed, from when on it could be seen, and where."""
    _, check = drilled(0)
    story = story_of(LAMP)
    debrief = told(story, careless(story, check))
    first, second, _ = spoken_debrief(debrief)
    assert first == "You caught 0 of 1 fault and invented none."
    assert second.startswith("Missed: gear lamps, nose: bulb out. It showed from 0:")
    assert "at gear lamps" in second
    assert debrief.figures.missed == 1
    assert "three green (missed); it was nose out" in text_of(debrief)


def test_needless_switches_cost_battery() -> None:
    """A landing light on the flight position, that nobody asked for, draws its sixteen amperes."""
    _, check = drilled(0)
    story = story_of(LAMP)
    done = perfect(story, check)
    begin = done.events[0].at
    done.events[:0] = [
        HandMoved(begin - 6, "feed selector", "flight"),
        HandMoved(begin - 6, "landing light switch", "on"),
    ]
    debrief = told(story, done)
    assert debrief.figures.early_hands == 2
    assert debrief.figures.wasted_ampere_hours > 16 * 5 / 3600
    assert debrief.figures.wasted_minutes > 0
    assert told(story, perfect(story, check)).figures.wasted_ampere_hours == 0


def test_words_that_answer_nothing_are_listed() -> None:
    """Roger is one."""
    _, check = drilled(0)
    story = story_of(LAMP)
    done = perfect(story, check)
    done.events.append(WordsRefused(done.ended_at, "roger", "answers nothing"))
    assert "once words that answer nothing: roger" in text_of(told(story, done))


def test_history_stands_beside_it_part_by_part() -> None:
    """Each figure of the drills before, the oldest first, and no mark that adds them up."""
    _, check = drilled(0)
    story = story_of(LAMP)
    now = told(story, perfect(story, check))
    before = ({**now.figures.plain(), "caught": 0, "hasty": 3},)
    words = text_of(replace(now, before=before))
    assert "caught: 0 of 1, 1 of 1" in words
    assert "too quick: 3, 0" in words
    assert "score" not in words


def test_it_says_what_it_is_not() -> None:
    """A drill is no flight training."""
    _, check = drilled(0)
    story = story_of(LAMP)
    assert NO_TRAINING in text_of(told(story, careless(story, check)))


def test_three_sentences_are_short_enough_to_be_spoken() -> None:
    """Each within a breath and a half of the house's own estimate."""
    _, check = drilled(0)
    story = story_of(LAMP, DEAF)
    for sentence in spoken_debrief(told(story, careless(story, check))):
        assert spoken_seconds(sentence) < 12
