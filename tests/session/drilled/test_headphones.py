"""Headphones on a ramp: how much of what lies under a prompt, and the same for the same seed."""

import numpy as np
import pytest

from runner.session.drilled.headphones import NOISE_DB, RADIO_DB, wear
from runner.voice.background import get_active_rms
from runner.voice.port import RATE, Sound


class Humming:
    """A voice that hums every text for a second."""

    name = "humming"

    def render(self, text: str) -> Sound:
        """A tone; its pitch by the text's length."""
        times = np.arange(RATE) / RATE
        return Sound(np.asarray(0.1 * np.sin(2 * np.pi * (200 + len(text)) * times), np.float32), RATE)


PROMPT = Sound(np.asarray(0.1 * np.sin(2 * np.pi * 440 * np.arange(40 * RATE) / RATE), np.float32), RATE)


def test_noise_and_radio_lie_under_the_prompt_at_their_levels() -> None:
    """Both together, over a prompt long enough to hear every call, to within a decibel and a half."""
    heard = wear(Humming(), 3)(PROMPT)
    assert len(heard.samples) == len(PROMPT.samples)
    under = heard.samples - PROMPT.samples
    calls = 1 / 3.5  # of each second of a call and its pause
    power = 10 ** (NOISE_DB / 10) + calls * 10 ** (RADIO_DB / 10)
    ratio = float(np.sqrt(np.mean(np.square(under)))) / get_active_rms(PROMPT.samples)
    assert 20 * np.log10(ratio) == pytest.approx(10 * np.log10(power), abs=1.5)


def test_the_same_seed_sounds_the_same_and_never_clips() -> None:
    """And another seed otherwise."""
    loud = Sound(np.asarray(PROMPT.samples * 9, np.float32), RATE)
    one, same, other = (wear(Humming(), seed)(loud).samples for seed in (3, 3, 4))
    assert np.array_equal(one, same)
    assert not np.array_equal(one, other)
    assert float(np.abs(one).max()) <= 1.0


def test_silence_stays_silent() -> None:
    """Where nothing is said there is nothing to lie under."""
    nothing = Sound(np.zeros(0, np.float32), RATE)
    assert wear(Humming(), 3)(nothing) is nothing
