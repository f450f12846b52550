"""Background noise, made from a seed, and mixed with speech at a known ratio."""

from enum import StrEnum
from typing import Final

import numpy as np
import numpy.typing as npt

from runner.voice.port import RATE, Samples
from runner.voice.sound import BLOCK_SAMPLES


class Background(StrEnum):
    """What the noise is like."""

    WHITE = "white"
    ENGINE = "engine"
    WIND = "wind"


FIRING_HERTZ: Final = 82.0
"""Fundamental of the invented engine: about what a four-blade propeller gives at 1,230 a minute."""


def make_background(kind: Background, count: int, generator: np.random.Generator) -> Samples:
    """So many samples at 16 kHz of noise, with an RMS of 1 over the whole."""
    noise = _SHAPES[kind](count, generator)
    rms = float(np.sqrt(np.mean(np.square(noise)))) if count else 1.0
    return np.asarray(noise / max(rms, 1e-12), dtype=np.float32)


def get_active_rms(speech: Samples) -> float:
    """RMS of the speech while it sounds: the 30 ms blocks within 30 dB of the loudest (after ITU-T P.56)."""
    blocks = [speech[n : n + BLOCK_SAMPLES] for n in range(0, len(speech), BLOCK_SAMPLES)]
    powers = np.array([0.0, *(float(np.mean(np.square(block, dtype=np.float64))) for block in blocks)])
    active = powers[powers >= max(powers.max() / 1000.0, 1e-12)]
    return float(np.sqrt(active.mean())) if len(active) else 0.0


def _white(count: int, generator: np.random.Generator) -> npt.NDArray[np.float64]:
    return generator.standard_normal(count)


def _shaped(count: int, generator: np.random.Generator, octave_db: float) -> npt.NDArray[np.float64]:
    """Noise whose spectrum falls by so many dB an octave above 40 Hz."""
    spectrum = np.fft.rfft(generator.standard_normal(count))
    hertz = np.maximum(np.fft.rfftfreq(count, 1.0 / RATE), 40.0)
    shape = (hertz / 40.0) ** (-octave_db / (20.0 * np.log10(2.0)))
    return np.fft.irfft(spectrum * shape, count)


def _engine(count: int, generator: np.random.Generator) -> npt.NDArray[np.float64]:
    """Harmonics of a slightly unsteady firing rate over falling broadband noise."""
    if not count:
        return np.zeros(0)
    drift = np.cumsum(_shaped(count, generator, 12.0))
    hertz = FIRING_HERTZ * (1.0 + 0.01 * drift / (np.abs(drift).max() + 1e-12))
    phase = 2.0 * np.pi * np.cumsum(hertz) / RATE
    starts = generator.uniform(0.0, 2.0 * np.pi, 24)
    tones = sum(np.sin(n * phase + starts[n - 1]) / n for n in range(1, 25))
    broad = _shaped(count, generator, 4.0)
    return np.asarray(tones + 0.7 * broad / (broad.std() + 1e-12))


def _wind(count: int, generator: np.random.Generator) -> npt.NDArray[np.float64]:
    """Steeply falling noise that comes in gusts of a second or so."""
    if not count:
        return np.zeros(0)
    gust = np.interp(
        np.arange(count) / RATE,
        np.arange(count // RATE + 2),
        generator.uniform(0.3, 1.0, count // RATE + 2),
    )
    return np.asarray(gust * _shaped(count, generator, 6.0))


_SHAPES: Final = {Background.WHITE: _white, Background.ENGINE: _engine, Background.WIND: _wind}
