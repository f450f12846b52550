"""Models that can be fetched: where each comes from, and the size and hash that it must have."""

import hashlib
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO, Final

from runner.errors import ModelError

LISTING: Final = "fetchable.toml"


@dataclass(frozen=True, slots=True)
class Fetchable:
    """One model as the list gives it; `size_bytes` and `sha256` are those of its archive, a zip file."""

    name: str
    url: str
    size_bytes: int
    unpacked_bytes: int
    """About what it takes once unpacked."""
    sha256: str
    licence: str
    attribution: str
    good_for: str

    @property
    def archive(self) -> str:
        """The archive's file name."""
        return f"{self.name}.zip"

    def check(self, archive: BinaryIO) -> None:
        """ModelError unless the open file is this model's archive, by its size and sha256."""
        archive.seek(0, 2)
        size = archive.tell()
        if size != self.size_bytes:
            raise ModelError(f"this is not {self.archive}: {size} bytes instead of {self.size_bytes}")
        archive.seek(0)
        digest = hashlib.file_digest(archive, "sha256").hexdigest()  # type: ignore[arg-type]
        if digest != self.sha256:
            raise ModelError(f"this is not {self.archive}: its sha256 is {digest} instead of {self.sha256}")
        archive.seek(0)


def fetchable_models(folder: Path) -> dict[str, Fetchable]:
    """What the shipped list offers, by name; ModelError when it cannot be read."""
    path = folder / LISTING
    try:
        listed = tomllib.loads(path.read_text(encoding="utf-8"))["model"]
        return {entry["name"]: _fetchable(entry) for entry in listed}
    except OSError as error:
        raise ModelError(f"{path}: {error.strerror}; install eyesout again") from error
    except (tomllib.TOMLDecodeError, KeyError, TypeError) as error:
        raise ModelError(f"{path}: not a list of models ({error}); install eyesout again") from error


def _fetchable(entry: dict[str, Any]) -> Fetchable:
    return Fetchable(
        name=str(entry["name"]),
        url=str(entry["url"]),
        size_bytes=int(entry["bytes"]),
        unpacked_bytes=int(entry["unpacked_bytes"]),
        sha256=str(entry["sha256"]),
        licence=str(entry["licence"]),
        attribution=str(entry["attribution"]),
        good_for=str(entry["good_for"]),
    )
