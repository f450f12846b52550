"""The models folder: its manifest, and files that are used only when they are what the manifest says."""

import hashlib
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from runner.errors import ModelError

MANIFEST = "manifest.toml"


@dataclass(frozen=True, slots=True)
class ModelFile:
    """One file of a model, as the manifest lists it."""

    path: Path
    """Where it lies."""
    size_bytes: int
    sha256: str
    licence: str
    attribution: str

    def content(self) -> bytes:
        """The file's bytes; ModelError unless size and sha256 are the manifest's."""
        try:
            content = self.path.read_bytes()
        except OSError as error:
            raise ModelError(f"{self.path}: {error.strerror}; install eyesout again") from error
        if len(content) != self.size_bytes:
            raise ModelError(
                f"{self.path} has {len(content)} bytes instead of {self.size_bytes}; install eyesout again"
            )
        if hashlib.sha256(content).hexdigest() != self.sha256:
            raise ModelError(
                f"{self.path}: damaged (its sha256 is not the manifest's); install eyesout again"
            )
        return content


def model_files(folder: Path) -> dict[str, ModelFile]:
    """The files of a folder's manifest.toml, by their path in it; ModelError when it cannot be read."""
    path = folder / MANIFEST
    try:
        listed = tomllib.loads(path.read_text(encoding="utf-8"))["file"]
        return {entry["path"]: _model_file(folder, entry) for entry in listed}
    except OSError as error:
        raise ModelError(f"{path}: {error.strerror}; install eyesout again") from error
    except (tomllib.TOMLDecodeError, KeyError, TypeError) as error:
        raise ModelError(f"{path}: not a manifest of models ({error}); install eyesout again") from error


def _model_file(folder: Path, entry: dict[str, Any]) -> ModelFile:
    return ModelFile(
        path=folder / entry["path"],
        size_bytes=int(entry["bytes"]),
        sha256=str(entry["sha256"]),
        licence=str(entry["licence"]),
        attribution=str(entry["attribution"]),
    )
