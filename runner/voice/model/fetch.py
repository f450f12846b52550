"""Gets a model and puts it on the shelf: from its publisher, or from a file that was carried here."""

from collections.abc import Callable
from pathlib import Path

from runner.errors import ModelError
from runner.voice.model.download import download, forget, length
from runner.voice.model.fetchable import Fetchable
from runner.voice.model.model_shelf import changing, check_room, install


def part_of(model: Fetchable, shelf: Path) -> Path:
    """Where the archive grows while it is fetched."""
    return shelf / f"{model.archive}.part"


def fetch(model: Fetchable, shelf: Path, tell: Callable[[int], None]) -> Path:
    """Fetch and install; gives the model's folder. `tell` hears how many bytes of the archive are here.

    ModelError when it cannot be had, is not the pinned file, or does not fit; what is good of it is kept.
    """
    part = part_of(model, shelf)
    with changing(shelf):
        check_room(shelf, model.size_bytes - length(part) + model.unpacked_bytes)
        download(model.url, part, model.size_bytes, tell)
        with part.open("rb") as archive:
            try:
                model.check(archive)
            except ModelError as error:
                forget(part)
                raise ModelError(f"{error}; what came was deleted, nothing was installed") from None
            folder = install(model, archive, shelf)
        forget(part)
        return folder


def install_from(path: Path, model: Fetchable, shelf: Path) -> Path:
    """Install from an archive that is here; gives the model's folder. ModelError as for `fetch`."""
    try:
        with path.open("rb") as archive, changing(shelf):
            check_room(shelf, model.unpacked_bytes)
            return install(model, archive, shelf)
    except OSError as error:
        raise ModelError(f"{path}: {error.strerror}") from error
