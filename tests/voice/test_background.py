"""Background noise: its strength, its colour, and its ratio to speech."""

import numpy as np
import pytest

from runner.voice.background import Background, get_active_rms, make_background
from runner.voice.listen.level import get_dbfs, get_speech_dbfs
from runner.voice.port import RATE


@pytest.mark.parametrize("kind", Background)
def test_it_has_unit_strength_and_comes_from_its_seed(kind: Background) -> None:
    """The same seed gives the same noise; another gives another."""
    one, same, other = (make_background(kind, 3 * RATE, np.random.default_rng(seed)) for seed in (1, 1, 2))
    assert float(np.sqrt(np.mean(np.square(one, dtype=np.float64)))) == pytest.approx(1.0, abs=0.001)
    assert np.array_equal(one, same)
    assert not np.array_equal(one, other)


@pytest.mark.parametrize("kind", Background)
@pytest.mark.parametrize("count", [0, 1, 480])
def test_any_length_can_be_had(kind: Background, count: int) -> None:
    """Down to nothing."""
    noise = make_background(kind, count, np.random.default_rng(1))
    assert len(noise) == count
    assert np.isfinite(noise).all()


def test_engine_and_wind_rumble_below_the_speech_band() -> None:
    """White noise has most of its power in or above the band; the others have most below."""
    shares = {}
    for kind in Background:
        noise = 0.1 * make_background(kind, 3 * RATE, np.random.default_rng(1))
        shares[kind] = get_speech_dbfs(noise) - get_dbfs(noise)
    assert shares[Background.WHITE] == pytest.approx(10.0 * np.log10(3100.0 / 8000.0), abs=0.3)
    assert shares[Background.ENGINE] < -5.0
    assert shares[Background.WIND] < -8.0


@pytest.mark.parametrize("ratio_db", [20.0, 5.0, 0.0, -5.0])
def test_the_active_level_is_that_of_the_speech_while_it_sounds(ratio_db: float) -> None:
    """Noise set by it lies so far below the speech; pauses do not count (after ITU-T P.56)."""
    tone = (0.1 * np.sin(np.arange(RATE) * 0.3)).astype(np.float32)
    speech = np.concatenate([np.zeros(RATE, np.float32), tone, np.zeros(RATE, np.float32)])
    noise = make_background(Background.WHITE, 4 * RATE, np.random.default_rng(1))
    added = get_active_rms(speech) * 10.0 ** (-ratio_db / 20.0) * noise
    assert get_dbfs(tone) - get_dbfs(added) == pytest.approx(ratio_db, abs=0.2)


def test_silence_has_no_active_level() -> None:
    """Nothing sounds: nothing is active, and no noise can be measured against it."""
    assert get_active_rms(np.zeros(RATE, np.float32)) == get_active_rms(np.zeros(0, np.float32)) == 0.0
