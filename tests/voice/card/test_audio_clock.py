"""The audio clock and the smoothing of block times."""

import time

import numpy as np
import pytest

from runner.voice.card.audio_clock import SampleClock, start_clock

BLOCK = 0.03


def test_the_clock_agrees_with_the_computer_and_never_goes_back() -> None:
    """Started now, it tells the epoch's time."""
    clock = start_clock()
    first = clock.now()
    assert abs(first - time.time()) < 1.0
    assert clock.now() >= first


def test_jitter_of_a_sound_card_is_smoothed_away() -> None:
    """Ten milliseconds of jitter become two at most, and block follows block."""
    generator = np.random.default_rng(1)
    clock = SampleClock(0.0, BLOCK)
    worst = 0.0
    for n in range(1, 400):
        before = clock
        clock = clock.after(n * BLOCK + float(generator.uniform(-0.01, 0.01)), BLOCK)
        worst = max(worst, abs(clock.started_at - n * BLOCK))
        assert clock.started_at - before.started_at == pytest.approx(BLOCK, abs=0.001)
    assert worst < 0.002


def test_a_card_that_runs_fast_is_followed() -> None:
    """A crystal off by 200 parts in a million does not drift away over ten minutes."""
    clock = SampleClock(0.0, BLOCK)
    for n in range(1, 20_000):
        clock = clock.after(n * BLOCK * 1.0002, BLOCK)
    assert clock.started_at == pytest.approx(19_999 * BLOCK * 1.0002, abs=0.001)


def test_lost_blocks_are_followed_at_once() -> None:
    """A gap in the card's times is a gap in ours."""
    assert SampleClock(10.0, BLOCK).after(10.5, BLOCK).started_at == 10.5
