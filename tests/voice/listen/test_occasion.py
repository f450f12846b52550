"""When an utterance is heard."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.voice.listen.occasion import is_worth_hearing

BLOCK = 0.03


def hear(pattern: str, *, speed: float = 0.01) -> list[float]:
    """Times of the hearings while blocks come that hold speech (s) or none (.); `speed` is cost a second."""
    heard_at, silence, cost, times = 0.0, 0.0, 0.0, []
    for number, block in enumerate(pattern, 1):
        now, silence = number * BLOCK, 0.0 if block == "s" else silence + BLOCK
        if is_worth_hearing(
            length_seconds=now, new_seconds=now - heard_at, silence_seconds=silence, cost_seconds=cost
        ):
            heard_at, cost = now, speed * now
            times.append(round(now, 3))
    return times


def test_nothing_is_heard_while_a_short_answer_is_spoken_and_little_after_it() -> None:
    """A second of speech costs nothing; then it is heard as soon as it may be over, and twice more."""
    assert hear("s" * 33 + "." * 20) == [1.05, 1.14, 1.29]


def test_every_pause_is_a_chance() -> None:
    """Two blocks of silence are one; a single one is part of a word."""
    assert hear("sssss..sssss.sssss..s") == [0.21, 0.6]


def test_where_silence_is_never_seen_it_is_heard_rarely() -> None:
    """After two seconds, and then ever more rarely, so that the cost keeps to the time that passes."""
    times = hear("s" * 330)
    assert times[0] == pytest.approx(2.0, abs=BLOCK)
    assert len(times) <= 9


@given(st.text("s.", min_size=1, max_size=400), st.floats(0.0, 2.0))
def test_hearing_never_takes_more_than_half_the_time(pattern: str, speed: float) -> None:
    """However slow the machine is: each hearing is followed by twice its cost of new sound, or by the end."""
    times = hear(pattern, speed=speed)
    for one, following in pairwise(times):
        assert following - one >= 2.0 * speed * one - 1e-3
