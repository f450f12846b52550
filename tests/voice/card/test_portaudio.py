"""The sound library's absence."""

import sys

import pytest

from runner.errors import AudioError
from runner.voice.card.audio_clock import start_clock
from runner.voice.card.portaudio import NO_LIBRARY, PortAudio


def test_without_the_library_one_line_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    """Importing sounddevice fails where PortAudio is not installed; keys can serve."""
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    with pytest.raises(AudioError, match="apt install libportaudio2") as caught:
        PortAudio(start_clock())
    assert str(caught.value) == NO_LIBRARY
    assert "\n" not in NO_LIBRARY
