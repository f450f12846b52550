"""fsrs against its own published vectors and the published curve, and what is made of it here."""

from datetime import UTC, datetime, timedelta

import pytest
from fsrs import Card, Rating, Scheduler
from hypothesis import given
from hypothesis import strategies as st

from runner.drill.due.forgetting import RECALL_BOUNDS, memory_of
from runner.drill.due.practice import Practice, PracticeGrade, PracticeKind, Sitting

DAY = 86_400.0
BEGUN = datetime(2022, 11, 29, 12, 30, tzinfo=UTC)
"""As in py-fsrs's own tests."""
GOOD_AND_AGAIN = (Rating.Good,) * 6 + (Rating.Again,) * 2 + (Rating.Good,) * 5
DECAY = 0.1542
"""FSRS-6's published parameter 20; 0, 1, 2 and 3 are the days of stability after the first answer."""
FIRST_DAYS = {"hard": 1.2931, "good": 2.3065, "easy": 8.2956, "again": 0.212}
SITTING = Sitting("s", 0.0, "Ann", PracticeKind.RECITE, "merlow-reserve")


def line(at: float, grade: PracticeGrade) -> Practice:
    """One time of one thing."""
    return Practice(SITTING, at, "people", "from memory", is_critical=False, grade=grade)


def curve(days: int, stability: float) -> float:
    """The forgetting curve of FSRS-6 as its description gives it: 90 % is left after the stability."""
    return float((1 + (0.9 ** (-1 / DECAY) - 1) * days / stability) ** -DECAY)


def test_fsrs_gives_the_intervals_of_its_own_test() -> None:
    """py-fsrs 6, tests/test_basic.py, test_review_card; ts-fsrs's FSRS-6 test has the same days."""
    scheduler, card, at, days = Scheduler(enable_fuzzing=False), Card(card_id=0), BEGUN, []
    for rating in GOOD_AND_AGAIN:
        card, _ = scheduler.review_card(card, rating, at)
        days.append((card.due - at).days)
        at = card.due
    assert days == [0, 2, 11, 46, 163, 498, 0, 0, 2, 4, 7, 12, 21]


def test_fsrs_gives_the_memory_of_its_own_test() -> None:
    """py-fsrs 6, tests/test_basic.py, test_memo_state."""
    scheduler, card, at = Scheduler(enable_fuzzing=False), Card(card_id=0), BEGUN
    ratings = (Rating.Again, *(Rating.Good,) * 5)
    for rating, days in zip(ratings, (0, 0, 1, 3, 8, 21), strict=True):
        at += timedelta(days=days)
        card, _ = scheduler.review_card(card, rating, at)
    assert card.stability == pytest.approx(53.62691, abs=1e-4)
    assert card.difficulty == pytest.approx(6.3574867, abs=1e-4)


def test_days_until_it_is_due_are_those_of_fsrs_without_steps() -> None:
    """The same answers, each on the day that it was due; days published by another port of FSRS-6."""
    practised: list[Practice] = []
    at, days = BEGUN.timestamp(), []
    for rating in GOOD_AND_AGAIN:
        grade = PracticeGrade.RIGHT if rating is Rating.Good else PracticeGrade.WRONG
        practised.append(line(at, grade))
        due_at = memory_of(practised, at).due_at
        days.append(round((due_at - at) / DAY))
        at = due_at
    assert days == [2, 11, 46, 163, 497, 1346, 9, 1, 2, 4, 7, 13, 22]


@pytest.mark.parametrize("days", [0, 1, 3, 10, 40])
def test_after_one_right_answer_the_range_is_that_of_hard_and_easy(days: int) -> None:
    """By the published curve and first stabilities."""
    memory = memory_of([line(0.0, PracticeGrade.RIGHT)], days * DAY)
    assert memory.low == pytest.approx(curve(days, FIRST_DAYS["hard"]))
    assert memory.high == pytest.approx(curve(days, FIRST_DAYS["easy"]))
    assert (memory.times, memory.last, memory.last_at) == (1, PracticeGrade.RIGHT, 0.0)


@pytest.mark.parametrize(("grade", "reading"), [(PracticeGrade.WRONG, "again"), (PracticeGrade.SLOW, "hard")])
def test_what_was_wrong_or_slow_leaves_no_range(grade: PracticeGrade, reading: str) -> None:
    """There is no right answer that could have been easy."""
    memory = memory_of([line(0.0, grade)], 5 * DAY)
    assert memory.low == memory.high == pytest.approx(curve(5, FIRST_DAYS[reading]))


times = st.lists(st.tuples(st.integers(0, 90), st.sampled_from(PracticeGrade)), min_size=1, max_size=8)


@given(times, st.integers(0, 400), st.integers(*RECALL_BOUNDS))
def test_forgetting_is_a_range_that_falls(
    history: list[tuple[int, PracticeGrade]], later: int, recall: int
) -> None:
    """Between nothing and all, never more on a later day; the more shall come, the sooner it is due."""
    at, practised = 0.0, []
    for days, grade in history:
        at += days * DAY
        practised.append(line(at, grade))
    now, then = (memory_of(practised, at + days * DAY, recall) for days in (later, later + 1))
    assert 0 <= then.low <= now.low <= now.high <= 1
    assert then.high <= now.high
    assert now.due_at >= at + DAY * 0.99
    assert memory_of(practised, at, RECALL_BOUNDS[1]).due_at <= now.due_at
