"""The mouth: prompts put together from sentences that were rendered once, so that most are ready at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

import numpy as np

from runner.language.breath import PAUSE_SECONDS, Passage, get_sentences
from runner.voice.mouth.cache import CachedVoice
from runner.voice.mouth.compression import CompressedVoice
from runner.voice.mouth.pace import PacedVoice
from runner.voice.mouth.pyttsx3_voice import RATE_WORDS_A_MINUTE, Pyttsx3Voice
from runner.voice.port import RATE, Samples, Sound, Voice
from runner.voice.sound import resample


class Mouth:
    """Renders a prompt sentence by sentence through a cache; every sound is at 16 kHz."""

    def __init__(self, voice: Voice, read_back_voice: Voice | None = None) -> None:
        self._voice, self._read_back_voice = voice, read_back_voice or voice
        self.worn: Callable[[Sound], Sound] | None = None
        """What each prompt passes on its way to the ear; None where nothing is between."""

    @property
    def name(self) -> str:
        """The voice's name."""
        return self._voice.name

    def render(self, text: str, read_back: tuple[str, ...] = ()) -> Sound:
        """The whole prompt, these sentences of it at the pace of a read-back."""
        parts: list[Samples] = []
        for sentence in get_sentences(text):
            if parts:
                parts.append(np.zeros(round(PAUSE_SECONDS * RATE), np.float32))
            voice = self._read_back_voice if sentence in read_back else self._voice
            parts.append(resample(voice.render(sentence), RATE).samples)
        said = Sound(np.concatenate(parts) if parts else np.zeros(0, np.float32), RATE)
        return said if self.worn is None else self.worn(said)

    def prepare(self, passages: Iterable[Passage]) -> None:
        """Render what will be said, ahead of time."""
        for each in passages:
            self.render(each.text, get_sentences(each.text) if each.is_read_back else ())


def make_mouth(
    folder: Path, voice: str = "", rate: int = RATE_WORDS_A_MINUTE, *, has_emphasis: bool = False
) -> tuple[Mouth, Pyttsx3Voice]:
    """A mouth over a voice with its cache in `folder`, and the voice to close after use."""
    spoken = Pyttsx3Voice(voice, rate)
    pieces = CachedVoice(CompressedVoice(spoken, has_emphasis=has_emphasis), folder)
    paced = (CachedVoice(PacedVoice(pieces, is_read_back=slow), folder) for slow in (False, True))
    return Mouth(*paced), spoken
