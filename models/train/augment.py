"""Makes each training utterance different each time: pace, room, microphone, noise, lead, tail and level."""

from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt
from noise import RATE, Sound, any_noise, room
from scipy import signal

_TELEPHONE: Final = signal.butter(4, (300, 3400), "bandpass", fs=RATE, output="sos")


def speech_power(samples: Sound) -> float:
    """Mean power of the loud part (the upper half of 20 ms stretches)."""
    whole = len(samples) // 320 * 320
    if not whole:
        return float(np.mean(samples**2)) + 1e-9
    power = np.sort((samples[:whole].reshape(-1, 320) ** 2).mean(1))
    return float(power[len(power) // 2 :].mean()) + 1e-9


def mixed(samples: Sound, noise: Sound, decibels: float) -> Sound:
    """Speech with noise at a ratio of speech to noise."""
    gain = np.sqrt(speech_power(samples) / 10 ** (decibels / 10) / (float(np.mean(noise**2)) + 1e-9))
    return np.asarray(samples + gain * noise, np.float32)


def augmented(
    rng: np.random.Generator,
    recording: npt.NDArray[np.int16],
    speech: Sequence[npt.NDArray[np.int16]],
    recorded_noise: Sequence[npt.NDArray[np.int16]],
) -> Sound:
    """One fresh variant of an utterance, float32 at 16 kHz between -1 and 1."""
    samples = recording.astype(np.float32) / 32768
    samples = _paced(rng, samples)
    if rng.random() < 0.35:
        samples = signal.fftconvolve(samples, room(rng))[: len(samples) + 3000].astype(np.float32)
    lead, tail = (int(x) for x in rng.uniform((0.05, 0.1), (0.6, 0.7)) * RATE)
    samples = np.concatenate([np.zeros(lead, np.float32), samples, np.zeros(tail, np.float32)])
    if rng.random() < 0.25:
        samples = signal.sosfilt(_TELEPHONE, samples).astype(np.float32)
    if rng.random() < 0.3:
        samples = _tilted(rng, samples)
    if rng.random() < 0.75:
        noise = _noise(rng, len(samples), speech, recorded_noise)
        samples = mixed(samples, noise, rng.uniform(-2, 25))
    else:
        samples = samples + rng.standard_normal(len(samples)).astype(np.float32) * 10 ** rng.uniform(-5, -3)
    peak = float(np.abs(samples).max()) + 1e-6
    return np.clip(samples / peak * 10 ** rng.uniform(-1.5, 0.1), -1, 1).astype(np.float32)


def _paced(rng: np.random.Generator, samples: Sound) -> Sound:
    """Faster or slower, and higher or lower with it."""
    factor = rng.uniform(0.87, 1.13)
    count = int(len(samples) / factor)
    return np.interp(np.linspace(0, len(samples) - 1, count), np.arange(len(samples)), samples).astype(
        np.float32
    )


def _tilted(rng: np.random.Generator, samples: Sound) -> Sound:
    """A microphone that favours high or low tones."""
    return signal.lfilter([1, rng.uniform(-0.7, 0.7)], [1], samples).astype(np.float32)


def _noise(
    rng: np.random.Generator,
    count: int,
    speech: Sequence[npt.NDArray[np.int16]],
    recorded: Sequence[npt.NDArray[np.int16]],
) -> Sound:
    if recorded and rng.random() < 0.3:
        whole = recorded[int(rng.integers(len(recorded)))]
        first = int(rng.integers(max(1, len(whole) - count)))
        part = np.resize(whole[first : first + count], count).astype(np.float32)
        return np.asarray(part / (np.sqrt(np.mean(part**2)) + 1e-6), np.float32)
    return any_noise(rng, count, speech)
