"""Every answer of every question held against networkx; no question has two right ones."""

from collections.abc import Callable
from datetime import date
from itertools import islice, pairwise

import pytest

from runner.airplane.life.seat import PILOT_SENSES
from runner.airplane.minutes.capacity import planned_conditions
from runner.airplane.minutes.reckoning import endurance
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Seat, Sense
from runner.airplane.model.rule import ROWS
from runner.drill.quiz.load_question import (
    alive_drafts,
    bus_drafts,
    cause_drafts,
    dead_drafts,
    loss_drafts,
    part_drafts,
    way_drafts,
)
from runner.drill.quiz.quiz import (
    APART,
    FULLER,
    READERS,
    invent_quiz,
    minutes_drafts,
    reads_drafts,
    seat_drafts,
)
from runner.drill.quiz.quiz_question import QuizDraft, QuizTopic
from runner.drill.quiz.quiz_scene import QuizScene
from tests.checklist.shipped import shipped_airplane
from tests.drill.quiz.reference import Reference

ON = date(2026, 11, 26)
NAMES = ("merlow-ml2", "tarn-qx83", "pellow-jv62")
Judge = Callable[[Airplane, QuizDraft, str], bool]


def is_bus(airplane: Airplane, draft: QuizDraft, choice: str) -> bool:
    """A bus with power on which the load hangs."""
    feeds = {feed.bus for feed in airplane.loads[draft.about].feeds}
    return choice in feeds & Reference(airplane, draft.position).buses()


def lives(airplane: Airplane, draft: QuizDraft, choice: str) -> bool:
    """All of it works."""
    return Reference(airplane, draft.position).lives(choice) is True


def is_dead(airplane: Airplane, draft: QuizDraft, choice: str) -> bool:
    """Nothing of it works."""
    return Reference(airplane, draft.position).lives(choice) is False


def is_partial(airplane: Airplane, draft: QuizDraft, choice: str) -> bool:
    """One part works and another does not."""
    return Reference(airplane, draft.position).lives(choice) is None


def dies(airplane: Airplane, draft: QuizDraft, choice: str) -> bool:
    """It has power before the breaker opens, and none after."""
    before, after = (Reference(airplane, draft.position, pulled) for pulled in ("", draft.about))
    return choice in before.loads() - after.loads()


def kills(airplane: Airplane, draft: QuizDraft, choice: str) -> bool:
    """The load has power before that breaker opens, and none after."""
    before, after = (Reference(airplane, draft.position, pulled) for pulled in ("", choice))
    return draft.about in before.loads() - after.loads()


def is_way(airplane: Airplane, draft: QuizDraft, choice: str) -> bool:
    """Each bus follows from the one before by the link between them, and the load hangs on the last."""
    reference, steps = Reference(airplane, draft.position), choice.split(" > ")
    graph, load = reference.graph(), airplane.loads[steps[-1]]
    buses = [(number, step) for number, step in enumerate(steps) if step in airplane.buses]
    hops = all(
        graph.has_edge(one, other)
        and {airplane.links[steps[at + 1]].start, airplane.links[steps[at + 1]].end} == {one, other}
        for (at, one), (_, other) in pairwise(buses)
    )
    last, home = buses[-1]
    breakers = steps[last + 1 : -1]
    breaker = breakers[0].removeprefix("breaker ") if breakers else None
    return (
        airplane.sources[steps[0]].bus == buses[0][1]
        and hops
        and any((feed.bus, feed.breaker) == (home, breaker) for feed in load.feeds)
    )


def can_be_had(airplane: Airplane, draft: QuizDraft, choice: str) -> bool:
    """Exactly these seats have the sense."""
    seats = Reference(airplane, draft.position).seats(draft.about)
    return READERS[Seat.LEFT in seats, Seat.RIGHT in seats] == choice


def keeps_more(airplane: Airplane, draft: QuizDraft, choice: str) -> bool:
    """Rows of the rule, then senses, then senses that need no load, counted over networkx's life."""
    reference = Reference(airplane, draft.position)
    kept = {sense: reference.seats(sense.value) for sense in Sense}

    def rank(seat: Seat) -> tuple[int, int, int]:
        rows = sum(bool(row.senses) and all(seat in kept[sense] for sense in row.senses) for row in ROWS)
        senses = sum(seat in kept[sense] for sense in PILOT_SENSES)
        return rows, senses, sum(reference.outlives(seat, sense) for sense in PILOT_SENSES)

    left, right = rank(Seat.LEFT), rank(Seat.RIGHT)
    fuller = None if left == right else Seat.LEFT if left > right else Seat.RIGHT
    return FULLER[fuller] == choice


TOPICS: dict[QuizTopic, tuple[Callable[[QuizScene], object], Judge]] = {
    QuizTopic.BUS: (bus_drafts, is_bus),
    QuizTopic.ALIVE: (alive_drafts, lives),
    QuizTopic.DEAD: (dead_drafts, is_dead),
    QuizTopic.PART: (part_drafts, is_partial),
    QuizTopic.LOSS: (loss_drafts, dies),
    QuizTopic.CAUSE: (cause_drafts, kills),
    QuizTopic.WAY: (way_drafts, is_way),
    QuizTopic.READS: (reads_drafts, can_be_had),
    QuizTopic.SEAT: (seat_drafts, keeps_more),
}


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("topic", TOPICS)
def test_one_answer_is_right_and_every_wrong_one_is_wrong(name: str, topic: QuizTopic) -> None:
    """All questions of the topic that the airplane gives, with all wrong answers that each could get."""
    airplane = shipped_airplane(name)
    makers, judge = TOPICS[topic]
    drafts = list(makers(QuizScene(airplane)))  # type: ignore[call-overload]  # each makes drafts
    assert drafts or (topic is QuizTopic.PART)
    for draft in drafts:
        assert judge(airplane, draft, draft.right), draft
        assert [each for each in draft.wrong if judge(airplane, draft, each)] == [], draft
        assert draft.right not in draft.wrong
        assert len(set(draft.wrong)) == len(draft.wrong) >= 2


@pytest.mark.parametrize("name", NAMES)
def test_minutes_are_those_of_the_battery_and_wrong_ones_are_far_from_them(name: str) -> None:
    """Ampere-minutes (ASTM F2490), which know no volts, come within a quarter of the rundown by volts."""
    airplane = shipped_airplane(name)
    (draft,) = minutes_drafts(QuizScene(airplane), ON)
    right, *wrong = (int(each.split()[0]) for each in (draft.right, *draft.wrong))
    reckoned = endurance(airplane, planned_conditions(airplane.battery, ON), airplane.endurance)
    assert right == pytest.approx(reckoned.total_minutes, rel=0.25)
    apart = [right, *wrong]
    assert len(wrong) == 3
    assert all(
        max(one, other) >= APART * min(one, other)
        for number, one in enumerate(apart)
        for other in apart[:number]
    )


@pytest.mark.parametrize("name", NAMES)
def test_a_seed_tells_the_quiz(name: str) -> None:
    """The same seed asks the same; another asks otherwise; topics come in turn."""
    airplane = shipped_airplane(name)
    first = list(invent_quiz(airplane, ON, 3, 9))
    assert first == list(invent_quiz(airplane, ON, 3, 9))
    assert first != list(invent_quiz(airplane, ON, 4, 9))
    topics = [each.topic for each in first]
    assert len(set(topics)) >= 8


def test_nothing_is_asked_twice_and_a_quiz_ends_when_all_is_asked() -> None:
    """Seats are three a position: after those the other topics go on."""
    questions = list(invent_quiz(shipped_airplane("tarn-qx83"), ON, 1, 100))
    asked = [(each.topic, each.about, each.position) for each in questions]
    assert len(asked) == len(set(asked)) == 100
    assert [each for each in questions if len(set(each.choices)) != len(each.choices)] == []
    assert {len(each.choices) for each in questions} == {3, 4}
    assert {each.right for each in questions} == {0, 1, 2, 3}


def test_what_an_airplane_has_too_little_of_is_not_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    """With two breakers there is no third that it could have been."""
    losses = QuizScene.losses
    monkeypatch.setattr(QuizScene, "losses", lambda scene, position: islice(losses(scene, position), 2))
    questions = list(invent_quiz(shipped_airplane("tarn-qx83"), ON, 1, 40))
    assert len(questions) == 40
    assert QuizTopic.CAUSE not in {each.topic for each in questions}
    assert min(len(each.choices) for each in questions) == 3
