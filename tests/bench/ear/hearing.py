"""One share of the bench's work, as a process does it: every ear on the same clips in the same noise."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np

from runner.voice.port import RATE, Block, Recogniser, Samples
from tests.bench.ear.engine import SHARES, Place, Share, make_ear
from tests.bench.ear.long_run import LongRow, false_answers, long_sound_of
from tests.bench.ear.sound_set import Clip
from tests.bench.ear.tally import Key, Tally
from tests.bench.ear.weather import Weather

_BLOCK = 480


@dataclass(frozen=True, slots=True)
class Work:
    """Numbered clips, and how they are heard."""

    clips: list[tuple[int, Clip]]
    weather: Weather
    levels: tuple[int | None, ...]
    engines: tuple[str, ...]
    place: Place
    by_kind: bool = False
    is_all: bool = False
    """Slow references hear every clip too."""


def hear_share(work: Work) -> dict[Key, Tally]:
    """Every ear on its share of the clips, each clip whole, as at an endpoint."""
    found: dict[Key, Tally] = {}
    ears = {engine: _ear(engine, work.place) for engine in work.engines}
    for number, clip in sorted(work.clips, key=lambda pair: pair[1].phrases):  # few changes of phrases
        takers = [e for e in work.engines if _share(e, work).takes(number, len(clip.phrases))]
        for condition in work.weather.conditions(number, work.levels) if takers else ():
            sound = work.weather.sound(clip, number, condition)
            for engine in takers:
                key = (clip.set_name, condition.row(by_kind=work.by_kind), engine)
                text, seconds = hear(ears[engine], clip.phrases, [sound])
                found.setdefault(key, Tally()).add(text, clip.truth, seconds)
    return found


def hear(ear: Recogniser, phrases: Sequence[str], blocks: list[Samples]) -> tuple[str | None, float]:
    """What the ear makes of an utterance, and its processor time."""
    ear.expect(phrases)
    for block in blocks:
        ear.feed(Block(block, 0.0))
    hearing = ear.finish()
    return hearing.text, hearing.compute_seconds


def streamed_seconds(work: Work) -> dict[tuple[str, str], tuple[float, float]]:
    """By set and engine: seconds of the mean clip, and of processor time when it is heard while spoken."""
    spent: dict[tuple[str, str], list[tuple[float, float]]] = {}
    for number, clip in work.clips:
        condition = next(iter(work.weather.conditions(number, (None,))))
        sound = work.weather.sound(clip, number, condition)
        blocks = [sound[first : first + _BLOCK] for first in range(0, len(sound), _BLOCK)]
        for engine in work.engines:
            seconds = hear(_ear(engine, work.place), clip.phrases, blocks)[1]
            spent.setdefault((clip.set_name, engine), []).append((len(sound) / RATE, seconds))
    return {key: tuple(np.mean(pairs, axis=0).tolist()) for key, pairs in spent.items()}


@dataclass(frozen=True, slots=True)
class LongWork:
    """One ear on one long sound."""

    engine: str
    sound: str
    place: Place
    real: Path
    recorded: Path
    minutes: int


def hear_long(work: LongWork) -> LongRow:
    """Its false answers."""
    sound = long_sound_of(work.sound, work.real, work.recorded, work.minutes)
    row = false_answers(_ear(work.engine, work.place), work.sound, sound)
    return LongRow(work.engine, row.sound, row.false_answers, row.hours, row.compute_seconds)


@lru_cache(8)
def _ear(engine: str, place: Place) -> Recogniser:
    """Made once a process."""
    return make_ear(engine, place)


def _share(engine: str, work: Work) -> Share:
    return Share() if work.is_all else SHARES[engine]
