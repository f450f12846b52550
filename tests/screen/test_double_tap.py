"""Two presses so close that nobody can have looked between them answer one item only."""

from dataclasses import replace

import pytest

from runner.screen.double_tap import CRITICAL_SECONDS, EVERYDAY_SECONDS, Tap, guard, tapped
from runner.screen.keys import Answering, KeyedAnswer, Refused, key_to_intent
from runner.screen.view import View
from tests.screen.sample import ASKING, LAMPS, READING, RESTORING, STOPPED

NEXT = replace(ASKING, turn=10)


def press(key: str, at: float, view: View, last: Tap | None) -> tuple[Answering, Tap | None]:
    """What a key gives, and what the next one is compared with."""
    tap = Tap(key, at, view.turn)
    intent = guard(key_to_intent(key, view), tap, view, last)
    return intent, tapped(intent, tap, last)


def is_taken(intent: Answering) -> bool:
    """It answers something."""
    return isinstance(intent, KeyedAnswer)


@pytest.mark.parametrize(
    ("view", "key", "seconds"),
    [
        (NEXT, " ", EVERYDAY_SECONDS),
        (NEXT, "l", EVERYDAY_SECONDS),
        (replace(RESTORING, turn=10), "n", CRITICAL_SECONDS),
        (replace(STOPPED, turn=10), "c", CRITICAL_SECONDS),
    ],
)
def test_the_second_tap_answers_nothing_until_there_was_time_to_look(
    view: View, key: str, seconds: float
) -> None:
    """Whether it is the same key or another; the time is that of the keys, and just enough is enough."""
    intent, last = press(" ", 0.0, ASKING, None)
    assert is_taken(intent)
    early, _ = press(key, seconds - 0.01, view, last)
    assert early == Refused("too soon after the last answer; look, then press it again")
    late, _ = press(key, seconds, view, last)
    assert is_taken(late)


def test_a_key_that_is_held_down_answers_once() -> None:
    """Thirty repeats a second, for four seconds, with a new item after the first."""
    intent, last = press(" ", 0.0, ASKING, None)
    assert is_taken(intent)
    for repeat in range(1, 120):
        intent, last = press(" ", repeat / 30, NEXT, last)
        assert isinstance(intent, Refused)


def test_two_flags_that_pull_at_once_both_count() -> None:
    """A gyro's letter is its own and answers no item."""
    intent, last = press("g", 5.0, READING, None)
    assert is_taken(intent)
    assert is_taken(press("y", 5.1, replace(READING, turn=10), last)[0])


def test_a_standard_word_follows_an_answer_at_once() -> None:
    """Whoever sees the slip of the hand says so without waiting; the same word twice is one."""
    _, last = press(" ", 5.0, ASKING, None)
    intent, last = press("R", 5.1, NEXT, last)
    assert is_taken(intent)
    assert isinstance(press("R", 5.2, replace(NEXT, turn=11), last)[0], Refused)


def test_digits_may_follow_as_fast_as_they_come() -> None:
    """Only what answers is held back."""
    _, last = press(" ", 5.0, ASKING, None)
    assert not isinstance(press("2", 5.05, replace(READING, turn=10), last)[0], Refused)


def test_a_key_that_answered_nothing_holds_nothing_back() -> None:
    """A slip of the hand and then the right key."""
    intent, last = press("x", 5.0, ASKING, None)
    assert isinstance(intent, Refused)
    assert is_taken(press(LAMPS[1].key, 5.05, NEXT, last)[0])
