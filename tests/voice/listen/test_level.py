"""Levels against what sine waves must have."""

import numpy as np
import pytest

from runner.voice.listen.level import SILENCE_DBFS, get_dbfs, get_speech_dbfs, is_speech
from runner.voice.port import RATE, Samples


def sine(hertz: float, amplitude: float = 1.0, count: int = 480) -> Samples:
    """A stretch of a pure tone."""
    return (amplitude * np.sin(2.0 * np.pi * hertz * np.arange(count) / RATE)).astype(np.float32)


@pytest.mark.parametrize(("amplitude", "dbfs"), [(1.0, 0.0), (0.5, -6.02), (0.1, -20.0), (0.001, -60.0)])
def test_a_sine_has_the_level_of_its_amplitude(amplitude: float, dbfs: float) -> None:
    """A full-scale sine is 0 dBFS by AES17 (from memory); halving it takes 6.02 dB."""
    assert get_dbfs(sine(1000.0, amplitude)) == pytest.approx(dbfs, abs=0.05)


def test_a_tone_within_the_speech_band_counts_in_full() -> None:
    """The band level of a 1 kHz tone is its level."""
    assert get_speech_dbfs(sine(1000.0, 0.5)) == pytest.approx(-6.02, abs=0.1)


@pytest.mark.parametrize("hertz", [50.0, 100.0, 6000.0])
def test_rumble_and_hiss_outside_the_band_hardly_count(hertz: float) -> None:
    """A propeller's fundamental and a hiss are 30 dB down at least."""
    assert get_speech_dbfs(sine(hertz)) < -30.0


@pytest.mark.parametrize("count", [0, 480])
def test_silence_has_a_level_too(count: int) -> None:
    """Digital silence, and no samples at all, are -100 dBFS and not minus infinity."""
    silence = np.zeros(count, np.float32)
    assert get_dbfs(silence) == get_speech_dbfs(silence) == SILENCE_DBFS


def test_speech_takes_less_to_go_on_than_to_start() -> None:
    """Between the two margins, what was speech stays speech."""
    assert not is_speech(-45.0, -50.0, 0.0, was_speech=False)
    assert is_speech(-45.0, -50.0, 0.0, was_speech=True)
    assert not is_speech(-47.0, -50.0, 0.0, was_speech=True)


def test_a_gusty_room_asks_for_more() -> None:
    """A level that would be speech in a steady room is not in gusts."""
    assert is_speech(-42.0, -50.0, 0.0, was_speech=False)
    assert not is_speech(-42.0, -50.0, 3.0, was_speech=False)


def test_the_faintest_sound_in_a_silent_room_is_no_speech() -> None:
    """A silent input does not make a whisper of dither into speech."""
    assert not is_speech(-70.0, SILENCE_DBFS, 0.0, was_speech=False)
