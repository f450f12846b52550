"""The studio of a scripted run: prompts, the pilot's lines and the room's noise as sound."""

from __future__ import annotations

from typing import Final

import numpy as np

from runner.session.live.prompt_mouth import Mouth
from runner.session.scripted.pilot_script import PilotScript, ScriptLine, ScriptNoise
from runner.voice.background import Background, get_active_rms, make_background
from runner.voice.port import RATE, Samples, Voice
from runner.voice.sound import read_recording, resample, trim

SPEECH_RMS: Final = 0.08
"""Active level of the pilot at the microphone: -22 dB below full scale, a headset's usual level."""

LOOP_SECONDS: Final = 20
"""Length of the noise that is repeated."""

HUM: Final = 1e-4
"""Noise of a quiet microphone, -80 dB."""


class ScriptedStudio:
    """Makes every sound of a scripted run from the script's seed."""

    def __init__(self, mouth: Mouth, pilot_voice: Voice, script: PilotScript) -> None:
        self._mouth, self._pilot_voice = mouth, pilot_voice
        self._loop = _make_room(script.noise, np.random.default_rng(script.seed))
        self._position = 0

    def prompt(self, text: str, read_back: tuple[str, ...] = ()) -> Samples:
        """What the tool says, these sentences of it as read-backs."""
        return self._mouth.render(text, read_back).samples

    def line(self, line: ScriptLine) -> Samples:
        """What the pilot says, at the pilot's usual level, without silence in front."""
        sound = read_recording(line.wav) if line.wav is not None else self._pilot_voice.render(line.say)
        speech = trim(resample(sound, RATE), keep_seconds=0.0).samples
        return np.asarray(speech * (SPEECH_RMS / max(get_active_rms(speech), 1e-6)), np.float32)

    def noise(self, samples: int) -> Samples:
        """The next stretch of the room's noise, for ever."""
        places = (self._position + np.arange(samples)) % len(self._loop)
        self._position += samples
        return self._loop[places]


def _make_room(noise: ScriptNoise | None, generator: np.random.Generator) -> Samples:
    count = LOOP_SECONDS * RATE
    if noise is None:
        return np.asarray(generator.normal(0.0, HUM, count), np.float32)
    level = SPEECH_RMS * 10.0 ** (-noise.snr_db / 20.0)
    return np.asarray(level * make_background(Background(noise.kind), count, generator), np.float32)
