"""The sounds that clips are put into: each clip in one kind of noise a level, the same for every ear."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

import numpy as np

from runner.voice.port import RATE, Samples
from tests.bench.ear.sound_set import Clip, Samples16
from tests.bench.ear.training import augment, noise, recording

KINDS: Final = ("engine", "propeller", "wind", "babble")
BABBLE: Final = KINDS.index("babble")
RECORDED_LEVELS: Final = (10, 5)
RECORDED_PACKAGE: Final = Path("/usr/share/games/searchandrescue/sounds")
"""Debian's searchandrescue-data (GPL): engines of jets and helicopters, heard inside and outside, 11 kHz."""
_SHORTEST: Final = 2 * RATE


@dataclass(frozen=True, slots=True)
class Condition:
    """One noise at one level."""

    kind: str
    """One of KINDS, `recorded engine`, or `quiet`."""
    level: int | None = None
    """Decibels of speech over noise."""

    def row(self, *, by_kind: bool) -> str:
        """The name of its row: engine, propeller and wind together unless by kind."""
        if self.level is None:
            return "quiet"
        is_own = by_kind or self.kind not in KINDS[:BABBLE]
        return f"{self.level} dB {self.kind if is_own else 'noise'}"


@dataclass(frozen=True, slots=True)
class Weather:
    """What noises are made of."""

    speech: list[Samples16]
    """For babble."""
    engines: list[Samples16] = field(default_factory=list)
    """Recorded ones; may be none."""

    def conditions(self, number: int, levels: tuple[int | None, ...]) -> Iterator[Condition]:
        """The conditions that a clip of this number is heard in."""
        for level in levels:
            yield Condition("quiet") if level is None else Condition(KINDS[number % 4], level)
            if self.engines and level in RECORDED_LEVELS:
                yield Condition("recorded engine", level)

    def sound(self, clip: Clip, number: int, condition: Condition) -> Samples:
        """The clip in this noise, with a quarter second of it before and after."""
        samples = np.pad(clip.samples.astype(np.float32) / 32768, (RATE // 4, RATE // 4))
        rng = np.random.default_rng((number, condition.level or 99))
        if condition.level is None:
            return np.asarray(samples + rng.standard_normal(len(samples)) * 1e-4, np.float32)
        heard = augment.mixed(samples, self._noise(condition.kind, rng, len(samples)), condition.level)
        return np.asarray(heard / max(1.0, float(np.abs(heard).max())), np.float32)

    def _noise(self, kind: str, rng: np.random.Generator, count: int) -> Samples:
        if kind == "babble":
            return np.asarray(noise.babble(rng, count, self.speech), np.float32)
        if kind in KINDS:
            make: Any = getattr(noise, kind)
            return np.asarray(make(rng, count), np.float32)
        whole = self.engines[int(rng.integers(len(self.engines)))].astype(np.float32)
        part = np.resize(np.roll(whole, int(rng.integers(len(whole)))), count)
        return np.asarray(part / (np.sqrt(np.mean(part**2)) + 1e-6), np.float32)


def recorded_engines(folder: Path) -> list[Samples16]:
    """The recordings there of running engines, two seconds or longer; none that start or stop."""
    paths = sorted(path for path in folder.rglob("*engine*side*.wav"))
    found = [recording.read_sound(path) for path in paths]
    return [samples for samples in found if len(samples) >= _SHORTEST]
