"""The prompt cache: what was spoken once is read from disk ever after, by voice, rate and text."""

import contextlib
import hashlib
from collections import OrderedDict
from pathlib import Path

from runner.errors import AudioError
from runner.voice.port import Sound, Voice
from runner.voice.sound import read_sound, write_sound

KEPT_IN_MEMORY = 512
"""Sounds; a minute of speech takes 5 MB."""


class CachedVoice:
    """A voice with a folder of WAV files in front of it; a file is there whole or not at all."""

    def __init__(self, voice: Voice, folder: Path) -> None:
        self._voice, self._folder = voice, folder
        self._recent: OrderedDict[str, Sound] = OrderedDict()

    @property
    def name(self) -> str:
        """The voice's name."""
        return self._voice.name

    def get_path(self, text: str) -> Path:
        """Where the sound of a text is kept; the voice's name holds voice and rate."""
        key = hashlib.sha256(f"{self.name}\n{text}".encode()).hexdigest()
        return self._folder / f"{key}.wav"

    def render(self, text: str) -> Sound:
        """The sound, rendered only if it is neither in memory nor on disk."""
        sound = self._recent.get(text) or self._read(text) or self._render(text)
        self._recent[text] = sound
        self._recent.move_to_end(text)
        if len(self._recent) > KEPT_IN_MEMORY:
            self._recent.popitem(last=False)
        return sound

    def _read(self, text: str) -> Sound | None:
        path = self.get_path(text)
        if not path.exists():
            return None
        try:
            return read_sound(path)
        except AudioError:
            return None  # damaged from outside: render it again over the old file

    def _render(self, text: str) -> Sound:
        sound = self._voice.render(text)
        with contextlib.suppress(AudioError):  # a full disk takes the saving away, not the voice
            write_sound(self.get_path(text), sound)
        return sound
