"""What a run is made with, in words for its record."""

import hashlib
from importlib.metadata import version
from pathlib import Path

import pytest

from runner.place import data_folder
from runner.session.engine import made_with


def test_the_builtin_ear_is_named_by_its_network() -> None:
    """The first digits of the file's own SHA-256, reckoned here."""
    digest = hashlib.sha256((data_folder("models") / "ear" / "ear.onnx").read_bytes()).hexdigest()
    assert made_with("builtin") == f"eyesout {version('eyesout')}, ear builtin, network {digest[:12]}"


def test_a_vosk_ear_is_named_by_library_and_model(tmp_path: Path) -> None:
    """Both decide what is heard."""
    assert made_with(f"vosk:{tmp_path / 'small-en'}").endswith(f"ear vosk {version('vosk')} with small-en")


@pytest.mark.parametrize(
    ("engine", "words"), [(None, "keys only"), ("oracle", "ear oracle"), ("vosk", "ear vosk, not found")]
)
def test_what_is_not_there_is_said(
    engine: str | None, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A run by keys, an unknown ear, a model that is not installed: none keeps a run from beginning."""
    monkeypatch.setattr("runner.session.engine.data_folder", lambda name: tmp_path / name)
    assert made_with(engine).endswith(f", {words}")
