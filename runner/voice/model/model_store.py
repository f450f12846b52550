"""The models folder: its manifest, and files that are used only when they are what the manifest says."""

import hashlib
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from runner.errors import ModelError

MANIFEST = "manifest.toml"
AGAIN: Final = "install eyesout again"
"""What helps against damage to what is shipped."""


@dataclass(frozen=True, slots=True)
class ModelFile:
    """One file of a model, as the manifest lists it."""

    path: Path
    """Where it lies."""
    size_bytes: int
    sha256: str
    licence: str
    attribution: str

    remedy: str = AGAIN
    """What to do when it is damaged or gone."""

    def content(self) -> bytes:
        """The file's bytes; ModelError unless size and sha256 are the manifest's."""
        try:
            content = self.path.read_bytes()
        except OSError as error:
            raise ModelError(f"{self.path}: {error.strerror}; {self.remedy}") from error
        self._compare(len(content), hashlib.sha256(content).hexdigest())
        return content

    def check(self) -> None:
        """ModelError unless size and sha256 are the manifest's; the file is read piece by piece."""
        try:
            with self.path.open("rb") as file:
                digest = hashlib.file_digest(file, "sha256").hexdigest()
                size = file.tell()
        except OSError as error:
            raise ModelError(f"{self.path}: {error.strerror}; {self.remedy}") from error
        self._compare(size, digest)

    def _compare(self, size_bytes: int, sha256: str) -> None:
        if size_bytes != self.size_bytes:
            raise ModelError(
                f"{self.path} has {size_bytes} bytes instead of {self.size_bytes}; {self.remedy}"
            )
        if sha256 != self.sha256:
            raise ModelError(f"{self.path}: damaged (its sha256 is not the manifest's); {self.remedy}")


def model_files(folder: Path, remedy: str = AGAIN) -> dict[str, ModelFile]:
    """The files of a folder's manifest.toml, by their path in it; ModelError when it cannot be read.

    `remedy` is what errors tell the user to do.
    """
    path = folder / MANIFEST
    try:
        listed = tomllib.loads(path.read_text(encoding="utf-8"))["file"]
        return {entry["path"]: _model_file(folder, entry, remedy) for entry in listed}
    except OSError as error:
        raise ModelError(f"{path}: {error.strerror}; {remedy}") from error
    except (tomllib.TOMLDecodeError, KeyError, TypeError) as error:
        raise ModelError(f"{path}: not a manifest of models ({error}); {remedy}") from error


def part_files(folder: Path, part: str) -> dict[str, ModelFile]:
    """Those of one model in the shipped folder, `ear` or `vosk`; ModelError as above."""
    return {path: file for path, file in model_files(folder).items() if path.startswith(f"{part}/")}


def _model_file(folder: Path, entry: dict[str, Any], remedy: str) -> ModelFile:
    return ModelFile(
        path=folder / entry["path"],
        size_bytes=int(entry["bytes"]),
        sha256=str(entry["sha256"]),
        licence=str(entry["licence"]),
        attribution=str(entry["attribution"]),
        remedy=remedy,
    )
