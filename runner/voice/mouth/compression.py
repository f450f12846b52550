"""Compression: soft parts of a spoken sound are raised, so that engine noise covers less of it.

Three to one over 16 ms, to one level for every prompt, no gain in silence, a limiter that looks ahead.
Emphasis, a choice for noise, tilts the spectrum towards the consonants before that. Both after Zorila, Kandia
and Stylianou, Interspeech 2012 (spectral shaping and dynamic range compression), from memory; figures ours.
"""

from typing import Final

import numpy as np
import numpy.typing as npt

from runner.voice.port import Samples, Sound, Voice

Values = npt.NDArray[np.float64]

RATIO: Final = 3.0
"""Decibels in for one decibel out, above and below the level."""
LEVEL_DBFS: Final = -19.0
"""The level of speech that comes out."""
WINDOW_SECONDS: Final = 0.016
"""Over which loudness is taken."""
SILENCE_DB: Final = -30.0
"""Below the level of the speech that comes in by more than this, nothing is raised."""
MOST_GAIN_DB: Final = 12.0
"""A soft part is raised by no more than this over the rest."""
PEAK: Final = 0.9
"""No sample is larger."""
LOOK_AHEAD_SECONDS: Final = 0.004
"""The limiter begins to turn down so long before a peak."""
EMPHASIS_DB: Final = 12.0
"""What emphasis raises from EMPHASIS_HZ[1] on, against what lies below EMPHASIS_HZ[0]."""
EMPHASIS_HZ: Final = (500.0, 4000.0)


class CompressedVoice:
    """A voice whose sounds are compressed; with emphasis, brighter as well."""

    def __init__(self, voice: Voice, *, has_emphasis: bool = False) -> None:
        self._voice, self._has_emphasis = voice, has_emphasis

    @property
    def name(self) -> str:
        """The voice's own name and what is done to it: the name stands for a sound in the prompt cache."""
        return f"{self._voice.name}, compressed{' with emphasis' if self._has_emphasis else ''}"

    def render(self, text: str) -> Sound:
        """The sound, at the voice's own rate."""
        sound = self._voice.render(text)
        samples = emphasised(sound) if self._has_emphasis else sound.samples
        return Sound(compressed(Sound(samples, sound.rate)), sound.rate)


def compressed(sound: Sound) -> Samples:
    """The samples at LEVEL_DBFS, their loudness over time drawn together; silence stays silence."""
    window = max(1, round(WINDOW_SECONDS * sound.rate))
    loudness = _decibels(_mean(np.square(sound.samples, dtype=np.float64), window))
    level = _speech_level(loudness)
    if level is None:
        return sound.samples
    away = np.clip(loudness - level, SILENCE_DB, None)
    gain = np.minimum(-away * (1.0 - 1.0 / RATIO), MOST_GAIN_DB)
    gain[loudness < level + SILENCE_DB] = 0.0
    raised = sound.samples.astype(np.float64) * 10.0 ** (_mean(gain, window) / 20.0)
    now = _speech_level(_decibels(_mean(np.square(raised), window)))
    lifted = raised * 10.0 ** ((LEVEL_DBFS - (level if now is None else now)) / 20.0)
    return np.asarray(_limited(lifted, round(LOOK_AHEAD_SECONDS * sound.rate)), np.float32)


def emphasised(sound: Sound) -> Samples:
    """The samples with their upper part raised along the logarithm of the frequency."""
    if not len(sound.samples):
        return sound.samples
    low, high = EMPHASIS_HZ
    spectrum = np.fft.rfft(sound.samples)
    hertz = np.maximum(np.fft.rfftfreq(len(sound.samples), 1.0 / sound.rate), low)
    share = np.minimum(np.log(hertz / low) / np.log(high / low), 1.0)
    tilted = np.fft.irfft(spectrum * 10.0 ** (EMPHASIS_DB * share / 20.0), len(sound.samples))
    return np.asarray(tilted, np.float32)


def _speech_level(loudness: Values) -> float | None:
    """The level of what is not silence, in decibels; None where all is silence."""
    if not len(loudness) or float(loudness.max()) < LEVEL_DBFS - 60.0:
        return None
    heard = loudness[loudness > loudness.max() + SILENCE_DB]
    return float(10.0 * np.log10(np.mean(10.0 ** (heard / 10.0))))


def _limited(samples: Values, reach: int) -> Values:
    """Turned down around each peak over PEAK: the least gain within reach, and then its mean within reach."""
    wanted = np.minimum(1.0, PEAK / np.maximum(np.abs(samples), 1e-9))
    if reach < 1 or float(wanted.min()) == 1.0:
        return samples * wanted
    width = 2 * reach + 1
    windows = np.lib.stride_tricks.sliding_window_view(np.pad(wanted, reach, mode="edge"), width)
    least = np.pad(windows.min(axis=1), reach, mode="edge")
    return samples * np.minimum(np.convolve(least, np.full(width, 1.0 / width), "valid"), wanted)


def _mean(values: Values, window: int) -> Values:
    """The mean over a window around each value; at the ends over what there is."""
    if not len(values):
        return values
    kernel = np.ones(window)
    return np.convolve(values, kernel, "same") / np.convolve(np.ones(len(values)), kernel, "same")


def _decibels(power: Values) -> Values:
    return 10.0 * np.log10(np.maximum(power, 1e-12))
