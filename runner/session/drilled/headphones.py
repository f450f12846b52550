"""Headphones on a ramp: under whatever the tool says an engine runs, and other people talk on the radio."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

import numpy as np

from runner.voice.background import Background, get_active_rms, make_background
from runner.voice.port import RATE, Samples, Sound, Voice
from runner.voice.sound import resample, trim

NOISE_DB: Final = -12.0
"""The engine under the prompts."""
RADIO_DB: Final = -9.0
"""Other people under the prompts; ours: loud enough to draw the ear, low enough to be talked over."""
LOOP_SECONDS: Final = 20
PAUSE_SECONDS: Final = 2.5
"""Between two calls of others."""
CALLS: Final = (
    "Quebec Lima Kilo, ready for departure.",
    "Lima Kilo, line up and wait.",
    "Ground, Sierra Papa, radio check.",
    "Sierra Papa, reading you five.",
    "Tower, Yankee Bravo, downwind.",
    "Yankee Bravo, number two, report final.",
)
"""Invented callsigns; the words are the standard's (ICAO Annex 10 Vol II)."""

Worn = Callable[[Sound], Sound]


def wear(voice: Voice, seed: int) -> Worn:
    """Headphones that mix noise and other people's calls under each prompt; the same seed sounds the same."""
    loop = _engine(np.random.default_rng(seed))
    radio = _radio(voice.render(words) for words in CALLS)
    position = 0

    def worn(prompt: Sound) -> Sound:
        nonlocal position
        heard = resample(prompt, RATE).samples
        if not len(heard):
            return prompt
        places = position + np.arange(len(heard))
        position += len(heard)
        level = get_active_rms(heard)
        under = (
            _decibels(NOISE_DB) * loop[places % len(loop)] + _decibels(RADIO_DB) * radio[places % len(radio)]
        )
        mixed = heard + level * under
        return Sound(np.asarray(mixed / max(1.0, float(np.abs(mixed).max())), np.float32), RATE)

    return worn


def _engine(generator: np.random.Generator) -> Samples:
    return make_background(Background.ENGINE, LOOP_SECONDS * RATE, generator)


def _radio(calls: Iterable[Sound]) -> Samples:
    """One call after another, each as loud as the other."""
    pieces: list[Samples] = []
    for call in calls:
        speech = trim(resample(call, RATE), keep_seconds=0.0).samples
        pieces.append(np.asarray(speech / max(get_active_rms(speech), 1e-6), np.float32))
        pieces.append(np.zeros(round(PAUSE_SECONDS * RATE), np.float32))
    return np.concatenate(pieces)


def _decibels(level: float) -> float:
    return float(10.0 ** (level / 20.0))
