"""Unpacks a model's zip file so that nothing lands outside its folder and nothing grows without bound."""

import hashlib
import os
import stat
import zipfile
import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO, Final

from runner.errors import ModelError

MAX_FILES: Final = 1000
CHUNK: Final = 1 << 20


@dataclass(frozen=True, slots=True)
class Unpacked:
    """One file that was written; `path` is relative to the folder, with slashes."""

    path: str
    size_bytes: int
    sha256: str


def unpack(archive: BinaryIO, folder: Path, max_bytes: int) -> tuple[Unpacked, ...]:
    """Write the archive's files into `folder`, without the one folder around them all if there is one.

    Everything is looked at before anything is written. ModelError for paths that lead elsewhere, links,
    encrypted or doubled files, more than MAX_FILES files or `max_bytes`, and damaged archives.
    """
    try:
        with zipfile.ZipFile(archive) as opened:
            return tuple(
                _write(opened, entry, folder, parts) for parts, entry in _plan(opened, max_bytes).items()
            )
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError) as error:
        raise ModelError(f"the archive is damaged ({error}); nothing was installed") from error
    except OSError as error:
        raise ModelError(f"cannot unpack into {folder} ({error.strerror}); nothing was installed") from error


def _plan(opened: zipfile.ZipFile, max_bytes: int) -> dict[tuple[str, ...], zipfile.ZipInfo]:
    """What goes where, by the parts of its path; ModelError if any of it must not."""
    parts = {_safe_parts(entry): entry for entry in opened.infolist()}
    files = {path: entry for path, entry in parts.items() if not entry.is_dir()}
    if len({"/".join(path).casefold() for path in parts}) != len(opened.infolist()):
        raise ModelError("the archive holds a file twice; nothing was installed")
    total = sum(entry.file_size for entry in files.values())
    if len(files) > MAX_FILES or total > max_bytes:
        raise ModelError(
            f"the archive would unpack to {len(files)} files and {total} bytes, "
            "more than a model of its size has; nothing was installed"
        )
    has_one_root = len({path[0] for path in parts}) == 1 and all(len(path) > 1 for path in files)
    return {path[1:] if has_one_root else path: entry for path, entry in files.items()}


def _safe_parts(entry: zipfile.ZipInfo) -> tuple[str, ...]:
    name = entry.orig_filename
    parts = tuple(name.removesuffix("/").split("/"))
    is_strange = stat.S_IFMT(entry.external_attr >> 16) not in (0, stat.S_IFREG, stat.S_IFDIR)
    leads_elsewhere = any(part in ("", ".", "..") for part in parts) or any(mark in name for mark in "\\:\0")
    if leads_elsewhere or is_strange or entry.flag_bits & 1:
        raise ModelError(f"the archive holds {name!r}, which no model may hold; nothing was installed")
    return parts


def _write(opened: zipfile.ZipFile, entry: zipfile.ZipInfo, folder: Path, parts: tuple[str, ...]) -> Unpacked:
    """Write one file to the disk for good; zipfile itself holds it to its size and checksum."""
    path = folder.joinpath(*parts)
    path.parent.mkdir(parents=True, exist_ok=True)
    digest = hashlib.sha256()
    with opened.open(entry) as source, path.open("xb") as target:
        while chunk := source.read(CHUNK):
            digest.update(chunk)
            target.write(chunk)
        target.flush()
        os.fsync(target.fileno())
    return Unpacked("/".join(parts), entry.file_size, digest.hexdigest())
