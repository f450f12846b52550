"""The user's own models: each in a folder of its name, with a manifest of its files' hashes."""

import contextlib
import json
import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import BinaryIO, Final

import filelock

from runner.errors import ModelError
from runner.voice.model.fetchable import Fetchable
from runner.voice.model.model_store import MANIFEST, ModelFile, model_files
from runner.voice.model.unpack import Unpacked, unpack

MOST_UNPACKED: Final = 2
"""An archive may unpack to so many times what its model takes."""

_ASIDE: Final = ".aside-"
"""Begins the names of folders that are being made or removed."""


def installed_models(shelf: Path) -> dict[str, Path]:
    """The folders of installed models by name, in their order."""
    return {path.parent.name: path.parent for path in sorted(shelf.glob(f"[!.]*/{MANIFEST}"))}


def installed_files(folder: Path) -> tuple[ModelFile, ...]:
    """The files of an installed model; ModelError when its manifest cannot be read."""
    remedy = f"eyesout models fetch {folder.name}"
    return tuple(model_files(folder, remedy).values())


def check_all(files: Iterable[ModelFile]) -> None:
    """ModelError at the first file that is not as its manifest says."""
    for file in files:
        file.check()


@contextlib.contextmanager
def changing(shelf: Path) -> Iterator[None]:
    """Hold the shelf while it is changed, and clear away what an interrupted change left."""
    try:
        shelf.mkdir(parents=True, exist_ok=True)
        with filelock.FileLock(shelf / ".lock", timeout=0):
            for left in shelf.glob(f"{_ASIDE}*"):
                shutil.rmtree(left)
            yield
    except filelock.Timeout:
        raise ModelError(f"another eyesout is changing {shelf}; wait until it is done") from None
    except BrokenPipeError:  # whoever read the output is gone: no trouble of the shelf's
        raise
    except OSError as error:
        raise ModelError(f"{error.filename or shelf}: {error.strerror or error}") from error


def check_room(shelf: Path, needed_bytes: int) -> None:
    """ModelError when the disk has less room than that."""
    free = shutil.disk_usage(shelf).free
    if free < needed_bytes:
        raise ModelError(f"{shelf}: {needed_bytes / 1e6:.0f} MB are needed, {free / 1e6:.0f} MB are free")


def install(model: Fetchable, archive: BinaryIO, shelf: Path) -> Path:
    """Put a model on the shelf, whole or not at all; gives its folder.

    The archive's hash is checked first. An older folder of that name is replaced. Call it within `changing`.
    """
    model.check(archive)
    made = Path(tempfile.mkdtemp(prefix=_ASIDE, dir=shelf))
    try:
        files = unpack(archive, made, MOST_UNPACKED * model.unpacked_bytes)
        if not (made / "am" / "final.mdl").exists() or (made / MANIFEST).exists():
            raise ModelError(f"{model.archive} holds no Vosk model (am/final.mdl); nothing was installed")
        _write_manifest(made, model, files)
        _keep(made)
        folder = shelf / model.name
        _set_aside(folder)
        made.rename(folder)
        _keep(shelf)
    finally:
        shutil.rmtree(made, ignore_errors=True)
    return folder


def remove(name: str, shelf: Path) -> Path:
    """Take a model off the shelf; ModelError when there is none of that name. Call it within `changing`."""
    installed = installed_models(shelf)
    if name not in installed:
        raise ModelError(f"{name} is not installed; installed: {', '.join(installed) or 'none'}")
    _set_aside(installed[name])
    return installed[name]


def _set_aside(folder: Path) -> None:
    """Away in one step, then deleted: no half of a model is ever found under its name."""
    if folder.exists():
        aside = Path(tempfile.mkdtemp(prefix=_ASIDE, dir=folder.parent))
        folder.rename(aside / folder.name)
        shutil.rmtree(aside)


def _write_manifest(folder: Path, model: Fetchable, files: Iterable[Unpacked]) -> None:
    lines = [f"# {model.archive}, sha256 {model.sha256}, from {model.url}"]
    for file in files:
        lines += [
            "",
            "[[file]]",
            f"path = {_quoted(file.path)}",
            f"bytes = {file.size_bytes}",
            f"sha256 = {_quoted(file.sha256)}",
            f"licence = {_quoted(model.licence)}",
            f"attribution = {_quoted(model.attribution)}",
        ]
    with (folder / MANIFEST).open("w", encoding="utf-8") as file_out:
        file_out.write("\n".join(lines) + "\n")
        file_out.flush()
        os.fsync(file_out.fileno())


def _quoted(text: str) -> str:
    """A TOML string: JSON's without its pairs of surrogates."""
    return json.dumps(text, ensure_ascii=False)


def _keep(folder: Path) -> None:
    """Have the folder's names on the disk for good, where the system lets a folder be synced."""
    if os.name == "posix":
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)
