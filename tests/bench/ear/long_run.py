"""False answers: hours of sound in which nobody answers, through the listener as in a run."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache, partial
from pathlib import Path
from typing import Final

import numpy as np

from runner.voice.listen.listener import Listener
from runner.voice.listen.result import UtteranceHeard
from runner.voice.port import RATE, Block, Recogniser, Samples
from tests.bench.ear.sound_set import long_sound
from tests.bench.ear.training import noise, sentence
from tests.bench.ear.weather import recorded_engines

PHRASES: Final = (*sentence.SHORT, "affirm", "negative", "correction", "standby", "continue")
"""The short words are the likeliest to be mistaken."""
SOUNDS: Final = ("talk", "noise", "recorded engine")
_BLOCK: Final = 480
_SECONDS: Final = 60
_LEVEL: Final = 0.05
Make = Callable[[np.random.Generator, int], Samples]


@dataclass(frozen=True, slots=True)
class LongRow:
    """What an engine took in a long sound."""

    engine: str
    sound: str
    false_answers: int
    hours: float
    compute_seconds: float


@lru_cache(2)
def long_sound_of(name: str, real: Path, engines: Path, minutes: int) -> Samples:
    """Talk of people who answer nothing; or one noise after the other, each for a minute at -26 dB."""
    most = minutes * 60 * RATE
    if name == "talk":
        found = long_sound(real, ("requests", "reading", "words"))[:most]
        return np.asarray(found / 32768, np.float32)
    rng = np.random.default_rng(4)
    makers = _noises(name, engines)
    parts = [makers[n % len(makers)](rng, _SECONDS * RATE) for n in range(minutes)]
    return np.concatenate(parts).astype(np.float32) * np.float32(_LEVEL)


def _noises(name: str, engines: Path) -> list[Make]:
    """Makers of noise of unit power."""
    if name == "noise":
        return [noise.engine, noise.propeller, noise.wind]
    return [partial(_repeated, samples.astype(np.float32)) for samples in recorded_engines(engines)]


def _repeated(one: Samples, _: np.random.Generator, count: int) -> Samples:
    """A recording over and over."""
    return np.asarray(np.resize(one / np.sqrt(np.mean(one**2)), count), np.float32)


def false_answers(ear: Recogniser, name: str, sound: Samples) -> LongRow:
    """Answers that the listener gives while this sound runs."""
    listener = Listener(ear)
    listener.expect(1, PHRASES)
    found, spent = 0, 0.0
    for first in range(0, len(sound) - _BLOCK, _BLOCK):
        for result in listener.hear(Block(sound[first : first + _BLOCK], first / RATE)):
            if isinstance(result, UtteranceHeard):
                found += result.hearing.text is not None
                spent += result.hearing.compute_seconds
    return LongRow(ear.name, name, found, len(sound) / RATE / 3600, spent)


def to_markdown(found: list[LongRow]) -> str:
    """As a table."""
    lines = [
        "| while an item waits | engine | false answers | hours | an hour | compute, % of one core |",
        "|---|---|---|---|---|---|",
    ]
    lines += [
        f"| {r.sound} | {r.engine} | {r.false_answers} | {r.hours:.2f} | {r.false_answers / r.hours:.1f} "
        f"| {r.compute_seconds / r.hours / 36:.1f} |"
        for r in sorted(found, key=lambda r: (SOUNDS.index(r.sound), r.engine))
    ]
    return "\n".join(lines)
