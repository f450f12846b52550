"""Compression: levels drawn together, silence left alone, no peak over the limit."""

from typing import Final

import numpy as np
import pytest

from runner.voice.mouth.compression import (
    EMPHASIS_DB,
    LEVEL_DBFS,
    MOST_GAIN_DB,
    PEAK,
    RATIO,
    CompressedVoice,
    compressed,
    emphasised,
)
from runner.voice.port import RATE, Samples, Sound

SECOND: Final = RATE


def tone(dbfs: float, hertz: float = 500.0, seconds: float = 0.5) -> Samples:
    """A sine of that RMS level."""
    at = np.arange(round(seconds * RATE)) / RATE
    return np.asarray(10.0 ** (dbfs / 20.0) * np.sqrt(2.0) * np.sin(2.0 * np.pi * hertz * at), np.float32)


def level(samples: Samples) -> float:
    """RMS in decibels."""
    return float(20.0 * np.log10(np.sqrt(np.mean(np.square(samples, dtype=np.float64)))))


@pytest.mark.parametrize("dbfs", [-50.0, -26.0, -10.0])
def test_every_prompt_comes_out_at_one_level(dbfs: float) -> None:
    """A steady tone at any level comes out at LEVEL_DBFS."""
    assert level(compressed(Sound(tone(dbfs), RATE))) == pytest.approx(LEVEL_DBFS, abs=0.3)


def test_a_soft_part_comes_nearer_to_a_loud_one() -> None:
    """12 dB under another tone before, a third of that after (the ratio); measured inside each."""
    out = compressed(Sound(np.concatenate([tone(-20.0), tone(-32.0)]), RATE))
    apart = level(out[1600:6400]) - level(out[9600:14400])
    assert apart == pytest.approx(12.0 / RATIO, abs=0.3)


def test_no_part_is_raised_beyond_the_most() -> None:
    """27 dB apart would be 18 dB of gain; it is MOST_GAIN_DB against the loud part's own turning down."""
    out = compressed(Sound(np.concatenate([tone(-15.0), tone(-42.0)]), RATE))
    apart = level(out[1600:6400]) - level(out[9600:14400])
    assert apart > 27.0 - MOST_GAIN_DB - 3.0


def test_silence_is_not_raised() -> None:
    """A hiss 50 dB under the speech keeps its distance to within the level's own lift."""
    hiss = np.random.default_rng(1).normal(0.0, 10.0 ** (-76.0 / 20.0), SECOND).astype(np.float32)
    out = compressed(Sound(np.concatenate([tone(-26.0), hiss]), RATE))
    assert level(out[: SECOND // 2]) - level(out[SECOND:]) > 45.0


def test_a_click_is_limited_and_what_is_around_it_too() -> None:
    """No sample is over the peak, and the turning down begins before the click."""
    samples = tone(-20.0)
    samples[4000] = 3.0
    out = compressed(Sound(samples, RATE))
    assert float(np.abs(out).max()) <= PEAK + 1e-6


@pytest.mark.parametrize("samples", [np.zeros(0, np.float32), np.zeros(800, np.float32)])
def test_nothing_stays_nothing(samples: Samples) -> None:
    """Neither an empty sound nor pure silence is an error."""
    assert np.array_equal(compressed(Sound(samples, RATE)), samples)
    assert np.array_equal(emphasised(Sound(samples, RATE)), samples)


def test_emphasis_raises_consonants_against_vowels() -> None:
    """4 kHz gains all of it against 500 Hz, 1.4 kHz about half."""
    gains = {hertz: level(emphasised(Sound(tone(-30.0, hertz), RATE))) + 30.0 for hertz in (250, 1414, 4000)}
    assert gains[250] == pytest.approx(0.0, abs=0.2)
    assert gains[1414] == pytest.approx(EMPHASIS_DB / 2.0, abs=0.2)
    assert gains[4000] == pytest.approx(EMPHASIS_DB, abs=0.2)


class Flat:
    """A voice that hums."""

    name = "flat"

    def render(self, text: str) -> Sound:
        """The same tone whatever the text."""
        del text
        return Sound(tone(-30.0), RATE)


def test_the_name_tells_sounds_apart() -> None:
    """The prompt cache goes by it."""
    plain, bright = CompressedVoice(Flat()), CompressedVoice(Flat(), has_emphasis=True)
    assert plain.name != bright.name != Flat.name
    assert level(plain.render("a").samples) == pytest.approx(LEVEL_DBFS, abs=0.3)
