"""The mouth: prompts put together from sentences that were rendered once, so that most are ready at once."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Final

import numpy as np

from runner.voice.mouth.cache import CachedVoice
from runner.voice.mouth.compression import CompressedVoice
from runner.voice.mouth.pace import PacedVoice
from runner.voice.mouth.pyttsx3_voice import RATE_WORDS_A_MINUTE, Pyttsx3Voice
from runner.voice.port import RATE, Samples, Sound, Voice
from runner.voice.sound import resample

PAUSE_SECONDS: Final = 0.25
"""Between two sentences."""

_SENTENCE_END: Final = re.compile(r"(?<=[.?!])\s+")


class Mouth:
    """Renders a prompt sentence by sentence through a cache; every sound is at 16 kHz."""

    def __init__(self, voice: Voice) -> None:
        self._voice = voice

    @property
    def name(self) -> str:
        """The voice's name."""
        return self._voice.name

    def render(self, text: str) -> Sound:
        """The whole prompt."""
        parts: list[Samples] = []
        for sentence in get_sentences(text):
            if parts:
                parts.append(np.zeros(round(PAUSE_SECONDS * RATE), np.float32))
            parts.append(resample(self._voice.render(sentence), RATE).samples)
        return Sound(np.concatenate(parts) if parts else np.zeros(0, np.float32), RATE)

    def prepare(self, texts: Iterable[str]) -> None:
        """Render what will be said, ahead of time."""
        for text in texts:
            self.render(text)


def get_sentences(text: str) -> tuple[str, ...]:
    """The sentences of a prompt, marks kept."""
    return tuple(part for part in _SENTENCE_END.split(text.strip()) if part)


def make_mouth(
    folder: Path, voice: str = "", rate: int = RATE_WORDS_A_MINUTE, *, has_emphasis: bool = False
) -> tuple[Mouth, Pyttsx3Voice]:
    """A mouth over a voice with its cache in `folder`, and the voice to close after use."""
    spoken = Pyttsx3Voice(voice, rate)
    pieces = CachedVoice(CompressedVoice(spoken, has_emphasis=has_emphasis), folder)
    return Mouth(CachedVoice(PacedVoice(pieces), folder)), spoken
