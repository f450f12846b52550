"""The prompt cache, in front of a voice that counts."""

from pathlib import Path

import numpy as np
import pytest

from runner.errors import VoiceError
from runner.voice.mouth import cache
from runner.voice.mouth.cache import CachedVoice
from runner.voice.port import Sound


class CountingVoice:
    """Renders as many samples as the text has letters, and counts its work."""

    def __init__(self, name: str = "plain") -> None:
        self.name = name
        self.rendered: list[str] = []

    def render(self, text: str) -> Sound:
        """Count and render."""
        if text == "unspeakable":
            raise VoiceError("cannot speak")
        self.rendered.append(text)
        return Sound(np.full(len(text), 0.25, np.float32), 22_050)


def test_a_text_is_rendered_once_in_a_lifetime(tmp_path: Path) -> None:
    """In memory within a session, on disk across sessions."""
    voice = CountingVoice()
    first = CachedVoice(voice, tmp_path)
    assert first.render("two") is first.render("two")
    again = CachedVoice(voice, tmp_path).render("two")
    assert voice.rendered == ["two"]
    assert (len(again.samples), again.rate) == (3, 22_050)


def test_another_voice_has_its_own_sounds(tmp_path: Path) -> None:
    """The name of a voice holds its rate, so both are in the key."""
    one, other = CountingVoice("at 150"), CountingVoice("at 120")
    CachedVoice(one, tmp_path).render("two")
    CachedVoice(other, tmp_path).render("two")
    assert other.rendered == ["two"]
    assert len(list(tmp_path.iterdir())) == 2


def test_a_damaged_file_is_rendered_anew(tmp_path: Path) -> None:
    """Half a file, or rubbish, is never played."""
    voice = CountingVoice()
    path = CachedVoice(voice, tmp_path).get_path("two")
    path.write_bytes(b"rubbish")
    assert len(CachedVoice(voice, tmp_path).render("two").samples) == 3
    assert len(CachedVoice(voice, tmp_path).render("two").samples) == 3
    assert voice.rendered == ["two"]


def test_what_cannot_be_spoken_leaves_no_file(tmp_path: Path) -> None:
    """The error passes through, and nothing half is kept."""
    with pytest.raises(VoiceError):
        CachedVoice(CountingVoice(), tmp_path).render("unspeakable")
    assert list(tmp_path.iterdir()) == []


def test_a_silent_prompt_is_kept_too(tmp_path: Path) -> None:
    """An empty sound comes back empty from disk."""
    voice = CountingVoice()
    CachedVoice(voice, tmp_path).render("")
    assert len(CachedVoice(voice, tmp_path).render("").samples) == 0
    assert voice.rendered == [""]


def test_memory_is_bounded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The oldest sound leaves memory, and comes back from disk."""
    monkeypatch.setattr(cache, "KEPT_IN_MEMORY", 2)
    voice = CountingVoice()
    cached = CachedVoice(voice, tmp_path)
    sounds = [cached.render(text) for text in ("one", "two", "three")]
    assert cached.render("three") is sounds[2]
    assert cached.render("one") is not sounds[0]
    assert voice.rendered == ["one", "two", "three"]


def test_a_disk_that_is_full_takes_no_voice_away(tmp_path: Path) -> None:
    """The sound is there although it cannot be kept."""
    folder = tmp_path / "a file"
    folder.write_text("in the way of a folder", encoding="utf-8")
    assert len(CachedVoice(CountingVoice(), folder / "prompts").render("two").samples) == 3
