"""Measures of voice, microphone and room, on sounds whose levels are known by hand."""

import numpy as np
import pytest

from runner.voice.lesson.learned import LearnedEar, is_clipped, measure
from runner.voice.lesson.trial import Tally
from runner.voice.listen.level import SILENCE_DBFS
from runner.voice.port import RATE, Block, Samples
from runner.voice.sound import get_blocks


def tone(amplitude: float, seconds: float = 0.6) -> Samples:
    """A sine of 1000 Hz, in the band of speech."""
    return (amplitude * np.sin(2 * np.pi * 1000 * np.arange(round(seconds * RATE)) / RATE)).astype(np.float32)


def said(*parts: Samples) -> tuple[Block, ...]:
    """A saying as blocks of a microphone."""
    return tuple(get_blocks(np.concatenate(parts), 0.0))


def test_the_voice_is_measured_while_it_sounds() -> None:
    """A sine of a tenth of full scale is 20 dB below it (AES17); the silence around it does not count."""
    silence = np.zeros(RATE // 2, np.float32)
    measures = measure(-80.0, (said(silence, tone(0.1), silence), said(tone(0.1))))
    assert measures.speech_dbfs == pytest.approx(-20.0, abs=0.2)
    assert measures.ratio_db == pytest.approx(60.0, abs=0.2)
    assert (measures.sayings, measures.clipped) == (2, 0)


def test_the_room_is_taken_off_the_voice() -> None:
    """Power adds: -20 dB over a room of -28 leaves 10 * log10(0.01 - 0.00158), or -20.75."""
    assert measure(-28.0, (said(tone(0.1)),)).speech_dbfs == pytest.approx(-20.75, abs=0.1)


def test_a_phrase_that_was_not_said_measures_nothing() -> None:
    """Of no saying there is no level."""
    measures = measure(-80.0, ((), ()))
    assert (measures.speech_dbfs, measures.sayings) == (SILENCE_DBFS, 0)


def test_clipping_is_more_than_a_stray_sample() -> None:
    """A sine at twice full scale lies there for two thirds of the time; one sample does not count."""
    assert is_clipped(np.clip(tone(2.0), -1.0, 1.0))
    stray = tone(0.1)
    stray[100] = 1.0
    assert not is_clipped(stray)
    assert measure(-80.0, (said(np.clip(tone(2.0), -1.0, 1.0)), said(tone(0.1)))).clipped == 1


def test_what_to_expect_is_counted_at_the_threshold_that_refuses_more() -> None:
    """A fit looks better on its own trials than it is."""
    shipped, fitted = Tally(17, 3, 12, 0, 0), Tally(17, 3, 16, 0, 0)
    assert LearnedEar("builtin", "", 0.75, 0.6, shipped, fitted).usual == shipped
    assert LearnedEar("builtin", "", 0.75, 0.9, fitted, shipped).usual == shipped
