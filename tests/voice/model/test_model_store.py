"""Model files and their manifest."""

import hashlib
from pathlib import Path

import pytest

from runner.errors import ModelError
from runner.place import data_folder
from runner.voice.model.model_store import model_files


def write_models(folder: Path, content: bytes) -> Path:
    """A folder with one listed file."""
    (folder / "a.bin").write_bytes(content)
    (folder / "manifest.toml").write_text(
        f'[[file]]\npath = "a.bin"\nbytes = {len(content)}\nlicence = "MIT"\nattribution = "nobody"\n'
        f'sha256 = "{hashlib.sha256(content).hexdigest()}"\n'
    )
    return folder


def test_a_file_as_listed_is_read(tmp_path: Path) -> None:
    """Its bytes come back."""
    assert model_files(write_models(tmp_path, b"network"))["a.bin"].content() == b"network"


@pytest.mark.parametrize(("damage", "message"), [(b"Network", "damaged"), (b"short", "5 bytes instead of 7")])
def test_a_changed_file_is_refused(tmp_path: Path, damage: bytes, message: str) -> None:
    """By its size, or by its sha256."""
    listed = model_files(write_models(tmp_path, b"network"))["a.bin"]
    listed.path.write_bytes(damage)
    with pytest.raises(ModelError, match=message):
        listed.content()


def test_a_missing_file_and_a_missing_manifest_are_named(tmp_path: Path) -> None:
    """One line, with the path."""
    with pytest.raises(ModelError, match=r"manifest\.toml: No such file"):
        model_files(tmp_path)
    listed = model_files(write_models(tmp_path, b"network"))["a.bin"]
    listed.path.unlink()
    with pytest.raises(ModelError, match=r"a\.bin: No such file"):
        listed.content()


def test_a_broken_manifest_is_said_to_be_one(tmp_path: Path) -> None:
    """Whatever is wrong with it."""
    (tmp_path / "manifest.toml").write_text("[[file]]\npath = 3")
    with pytest.raises(ModelError, match="not a manifest of models"):
        model_files(tmp_path)


def test_every_shipped_file_is_what_the_manifest_says() -> None:
    """The built-in ear has 16 MB at most, the Vosk model 40."""
    files = model_files(data_folder("models"))
    for folder, limit in (("ear/", 16_000_000), ("vosk/", 40_000_000)):
        assert (
            0 < sum(len(file.content()) for path, file in files.items() if path.startswith(folder)) <= limit
        )
