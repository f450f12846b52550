"""Reads sound files of any kind into 16 kHz, 16 bit: FLAC, Opus and WAV by libsndfile, G.722 by FFmpeg."""

from pathlib import Path
from typing import Final

import numpy as np
import numpy.typing as npt
import soundfile
import soxr

RATE: Final = 16_000


def read_sound(path: Path) -> npt.NDArray[np.int16]:
    """Mono samples."""
    if path.suffix == ".g722":
        return _read_g722(path)
    samples, rate = soundfile.read(path, dtype="float32", always_2d=True)
    samples = samples.mean(1)
    if rate != RATE:
        samples = soxr.resample(samples, rate, RATE)
    return (np.clip(samples, -1, 1) * 32767).astype(np.int16)


def _read_g722(path: Path) -> npt.NDArray[np.int16]:
    import av  # noqa: PLC0415 - only these files need it

    with av.open(str(path), format="g722") as file:
        parts = [frame.to_ndarray().reshape(-1) for frame in file.decode(audio=0)]
    return np.concatenate(parts).astype(np.int16)
