"""Loudness of a block of sound, in all and in the band of speech, and whether it stands out as speech."""

import math
from functools import cache

import numpy as np
import numpy.typing as npt

from runner.voice.port import RATE, Samples

SILENCE_DBFS = -100.0
"""The level given to digital silence."""
SPEECH_BAND_HERTZ = (300.0, 3400.0)
"""The band of a telephone (ITU-T G.712): rumble of engines and wind lies mostly below it."""
FAINTEST_SPEECH_DBFS = -62.0
"""Nothing fainter counts as speech, however quiet the room."""
RISE_DB = 7.0
"""How far above the noise floor speech starts."""
STAY_DB = 4.0
"""How far above the noise floor speech goes on, once started."""

UNREST_WEIGHT = 1.5
MOST_UNREST_DB = 6.0
"""How much the unrest of the room adds to both."""


def get_dbfs(samples: Samples) -> float:
    """RMS level of a block; a full-scale sine is 0 dBFS (AES17, from memory), silence -100."""
    if not len(samples):
        return SILENCE_DBFS
    return _to_dbfs(float(np.mean(np.square(samples, dtype=np.float64))))


def get_speech_dbfs(samples: Samples) -> float:
    """RMS level of what lies in the speech band of a block at 16 kHz, on the scale of `get_dbfs`."""
    count = len(samples)
    if not count:
        return SILENCE_DBFS
    spectrum = np.fft.rfft(samples * _window(count))
    low, high = (math.ceil(hertz * count / RATE) for hertz in SPEECH_BAND_HERTZ)
    power = np.square(np.abs(spectrum[low : high + 1]))
    return _to_dbfs(float(2.0 * np.sum(power)) / count**2)


def is_speech(dbfs: float, floor_dbfs: float, unrest_db: float, *, was_speech: bool) -> bool:
    """Whether a block's speech-band level stands out of the room; it takes less to stay than to start."""
    margin = (STAY_DB if was_speech else RISE_DB) + min(MOST_UNREST_DB, UNREST_WEIGHT * unrest_db)
    return dbfs >= max(floor_dbfs + margin, FAINTEST_SPEECH_DBFS)


def _to_dbfs(mean_square: float) -> float:
    if mean_square <= 0.0:
        return SILENCE_DBFS
    return max(SILENCE_DBFS, 10.0 * math.log10(2.0 * mean_square))


@cache
def _window(count: int) -> npt.NDArray[np.float64]:
    """A Hann window of unit power, so that rumble below the band does not leak into it."""
    window = np.hanning(count + 2)[1:-1]
    return np.asarray(window / math.sqrt(float(np.mean(np.square(window)))))
