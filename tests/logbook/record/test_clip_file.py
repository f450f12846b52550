from pathlib import Path

import pytest

from runner.errors import RecordError
from runner.logbook.record.clip_file import keep_clip, read_clip


def test_a_clip_comes_back_as_it_was(tmp_path: Path) -> None:
    """Any bytes, in a folder that did not exist; nothing but the clip is left there."""
    folder = tmp_path / "clips"
    content = bytes(range(256)) * 100
    name = keep_clip(folder, content)
    assert read_clip(folder, name) == content
    assert [path.name for path in folder.iterdir()] == [name]


def test_the_same_sound_is_kept_once(tmp_path: Path) -> None:
    """Its name is the SHA-256 of its content (that of `abc` is FIPS 180-4's example, from memory)."""
    expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad.wav"
    assert keep_clip(tmp_path, b"abc") == keep_clip(tmp_path, b"abc") == expected
    assert len(list(tmp_path.iterdir())) == 1


def test_a_changed_or_missing_clip_is_one_line(tmp_path: Path) -> None:
    """The record proves its clips."""
    name = keep_clip(tmp_path, b"abc")
    (tmp_path / name).write_bytes(b"abd")
    with pytest.raises(RecordError, match="was changed after it was recorded"):
        read_clip(tmp_path, name)
    (tmp_path / name).unlink()
    with pytest.raises(RecordError, match="No such file"):
        read_clip(tmp_path, name)


@pytest.mark.parametrize("name", ["../etc/passwd", "", "a" * 64, f"/{'a' * 64}.wav"])
def test_a_name_that_reaches_elsewhere_is_refused(tmp_path: Path, name: str) -> None:
    """A record from another computer cannot make this one read other files."""
    with pytest.raises(RecordError, match="not a clip's name"):
        read_clip(tmp_path, name)
