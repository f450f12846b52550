"""Sound files and sample rates: any file that libsndfile reads becomes mono float32, and back to WAV."""

import os
import tempfile
from pathlib import Path

import numpy as np
import soundfile
import soxr

from runner.errors import AudioError
from runner.voice.port import RATE, Block, Samples, Sound

BLOCK_SAMPLES = RATE * 30 // 1000
"""30 ms."""
RATES = (4_000, 768_000)
"""Samples a second that speech is recorded at: half a telephone's to the fastest sound cards'."""


def read_sound(path: Path) -> Sound:
    """Read a WAV, FLAC, Opus, ... file at its own rate, channels averaged; AudioError when it is none."""
    try:
        frames, rate = soundfile.read(path, dtype="float32", always_2d=True)
    except (OSError, soundfile.SoundFileError) as error:
        reason = getattr(error, "error_string", None) or str(error)
        raise AudioError(f"{path}: cannot be read as sound ({reason}); use WAV, FLAC or Opus") from None
    if not RATES[0] <= rate <= RATES[1]:
        raise AudioError(
            f"{path}: {rate} samples a second is no rate for speech; record {RATES[0]} to {RATES[1]}"
        )
    if not np.isfinite(frames).all():
        raise AudioError(
            f"{path}: damaged, with samples that are no numbers (NaN or infinite); record it again"
        )
    return Sound(np.ascontiguousarray(frames.mean(axis=1, dtype=np.float32)), int(rate))


def read_recording(path: Path) -> Sound:
    """The same for what somebody recorded; AudioError too when it holds no sound at all."""
    sound = read_sound(path)
    if not len(sound.samples):
        raise AudioError(f"{path}: holds no sound (0 samples); record it again")
    return sound


def write_sound(path: Path, sound: Sound) -> None:
    """Write a 16-bit WAV file that is there whole or not at all; AudioError when it cannot be written."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(suffix=".wav", prefix=".", dir=path.parent)
        os.close(handle)
        try:
            soundfile.write(name, np.clip(sound.samples, -1.0, 1.0), sound.rate, subtype="PCM_16")
            Path(name).replace(path)
        finally:
            Path(name).unlink(missing_ok=True)
    except (OSError, soundfile.SoundFileError) as error:
        raise AudioError(f"{path}: cannot be written ({error}); check the folder and its space") from None


def resample(sound: Sound, rate: int) -> Sound:
    """The same sound at another sample rate."""
    if sound.rate == rate or not len(sound.samples):
        return Sound(sound.samples, rate)
    return Sound(np.asarray(soxr.resample(sound.samples, sound.rate, rate), dtype=np.float32), rate)


def trim(sound: Sound, threshold: float = 0.004, keep_seconds: float = 0.01) -> Sound:
    """Without the silence at both ends, but for `keep_seconds` each; `threshold` is an amplitude."""
    loud = np.flatnonzero(np.abs(sound.samples) > threshold)
    if not len(loud):
        return Sound(sound.samples[:0], sound.rate)
    margin = round(keep_seconds * sound.rate)
    start, stop = max(0, int(loud[0]) - margin), int(loud[-1]) + margin + 1
    return Sound(sound.samples[start:stop], sound.rate)


def get_blocks(samples: Samples, started_at: float) -> list[Block]:
    """Cut 16 kHz sound into blocks of 30 ms, as a microphone delivers them; the last one may be short."""
    starts = range(0, len(samples), BLOCK_SAMPLES)
    return [Block(samples[n : n + BLOCK_SAMPLES], started_at + n / RATE) for n in starts]
