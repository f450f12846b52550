"""Synthesised noise of an airplane on the ramp: engine, propeller, wind, hiss, and babble from speech."""

from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

RATE: Final = 16_000
Sound = npt.NDArray[np.float32]


def coloured(rng: np.random.Generator, count: int, slope: float) -> Sound:
    """Noise whose power falls with frequency to the power `slope` (0 white, 1 pink, 2 brown)."""
    spectrum = np.fft.rfft(rng.standard_normal(count))
    frequency = np.maximum(np.fft.rfftfreq(count, 1 / RATE), 30.0)
    return _level(np.fft.irfft(spectrum * frequency ** (-slope / 2), count))


def wind(rng: np.random.Generator, count: int) -> Sound:
    """Low rumble in gusts."""
    rumble = coloured(rng, count, rng.uniform(1.6, 2.8))
    return _level(rumble * (0.3 + _drift(rng, count, rng.uniform(0.5, 4.0)) ** 2))


def propeller(rng: np.random.Generator, count: int) -> Sound:
    """Blade passes and their harmonics, slightly unsteady, over broadband slipstream."""
    return _tones(
        rng,
        count,
        base=rng.uniform(35, 130),
        harmonics=int(rng.integers(8, 40)),
        fall=rng.uniform(0.6, 1.4),
        roar=0.6,
    )


def engine(rng: np.random.Generator, count: int) -> Sound:
    """A turbine's whine or a piston engine's firing tones over a roar."""
    if rng.random() < 0.5:
        return _tones(
            rng,
            count,
            base=rng.uniform(400, 3500),
            harmonics=int(rng.integers(1, 4)),
            fall=rng.uniform(0.3, 1.5),
            roar=1.2,
        )
    return _tones(
        rng,
        count,
        base=rng.uniform(20, 90),
        harmonics=int(rng.integers(10, 50)),
        fall=rng.uniform(0.5, 1.2),
        roar=0.5,
    )


def babble(rng: np.random.Generator, count: int, speech: Sequence[npt.NDArray[np.int16]]) -> Sound:
    """Several people at once."""
    total = np.zeros(count, np.float32)
    for _ in range(int(rng.integers(3, 8))):
        total += _level(_loop(rng, count, speech)) * rng.uniform(0.4, 1)
    return _level(total)


def any_noise(rng: np.random.Generator, count: int, speech: Sequence[npt.NDArray[np.int16]]) -> Sound:
    """One kind at random, or two together."""
    makers = (
        lambda: coloured(rng, count, rng.uniform(-0.3, 2)),
        lambda: wind(rng, count),
        lambda: propeller(rng, count),
        lambda: engine(rng, count),
        lambda: babble(rng, count, speech),
    )
    first = makers[rng.choice(5, p=(0.22, 0.2, 0.18, 0.18, 0.22))]()
    if rng.random() < 0.4:
        first = _level(first + makers[rng.choice(4)]() * rng.uniform(0.2, 1))
    return first


def _tones(
    rng: np.random.Generator, count: int, *, base: float, harmonics: int, fall: float, roar: float
) -> Sound:
    wobble = 1 + 0.02 * (_drift(rng, count, rng.uniform(0.3, 6)) - 0.5)
    phase = 2 * np.pi * np.cumsum(base * wobble) / RATE
    total = np.zeros(count)
    for n in range(1, harmonics + 1):
        if n * base < RATE / 2:
            total += np.sin(n * phase + rng.uniform(0, 6.3)) * n**-fall * rng.uniform(0.3, 1)
    beat = 1 + 0.4 * rng.random() * np.sin(phase / int(rng.integers(1, 5)))
    return _level(_level(total * beat) + roar * coloured(rng, count, rng.uniform(0.3, 1.8)))


def _drift(rng: np.random.Generator, count: int, rate_hz: float) -> npt.NDArray[np.float64]:
    """A slow random curve between 0 and 1."""
    points = rng.random(max(4, int(count / RATE * rate_hz) + 3))
    return np.asarray(np.interp(np.linspace(0, len(points) - 1, count), np.arange(len(points)), points))


def _loop(rng: np.random.Generator, count: int, speech: Sequence[npt.NDArray[np.int16]]) -> Sound:
    parts: list[npt.NDArray[np.int16]] = []
    length = 0
    while length < count:
        parts.append(speech[int(rng.integers(len(speech)))])
        length += len(parts[-1])
    return np.concatenate(parts)[:count].astype(np.float32)


def _level(samples: npt.NDArray[np.floating]) -> Sound:
    """Scale to unit power."""
    return np.asarray(samples / (np.sqrt(np.mean(np.square(samples))) + 1e-9), np.float32)


def room(rng: np.random.Generator) -> Sound:
    """A small room's or cabin's response: direct sound, then a fading tail."""
    seconds = rng.uniform(0.05, 0.45)
    count = int(seconds * RATE)
    tail = rng.standard_normal(count) * np.exp(-6.9 * np.arange(count) / count)
    response = np.concatenate([[1.0], tail * rng.uniform(0.02, 0.25)])
    return np.asarray(response, np.float32)
