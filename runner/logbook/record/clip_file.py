"""Sound clips of notes: files named by the hash of what is in them, so that a record proves its clips too."""

import hashlib
import os
import re
from pathlib import Path
from typing import Final

from runner.errors import RecordError

_NAME: Final = re.compile(r"[0-9a-f]{64}\.[a-z0-9]{1,8}")


def clip_name(content: bytes, suffix: str = ".wav") -> str:
    """What a clip with this content is called; RecordError when the suffix is odd."""
    name = hashlib.sha256(content).hexdigest() + suffix.lower()
    _refuse_name(name)
    return name


def is_clip(name: str) -> bool:
    """True when an attachment's name is a clip's, False when it is a text's."""
    return "." in name


def keep_clip(folder: Path, content: bytes, suffix: str = ".wav") -> str:
    """Put a clip into the folder, whole and on disk when this returns; gives its name for the record."""
    name = clip_name(content, suffix)
    path = folder / name
    if path.exists():
        return name
    partial = folder / f".{name}.{os.getpid()}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with partial.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        partial.replace(path)
    except OSError as error:
        partial.unlink(missing_ok=True)
        raise RecordError(f"cannot keep the clip in {folder}: {error.strerror}") from None
    return name


def read_clip(folder: Path, name: str) -> bytes:
    """The clip's content; RecordError when it is missing or no longer what was recorded."""
    _refuse_name(name)
    try:
        content = (folder / name).read_bytes()
    except OSError as error:
        raise RecordError(f"clip {name[:12]} in {folder}: {error.strerror}") from None
    return proven_clip(name, content, str(folder))


def proven_clip(name: str, content: bytes, place: str) -> bytes:
    """The content, if it is what the name says; RecordError when it is not."""
    if hashlib.sha256(content).hexdigest() != name.partition(".")[0]:
        raise RecordError(f"clip {name[:12]} in {place} was changed after it was recorded")
    return content


def _refuse_name(name: str) -> None:
    """A name out of a file from elsewhere must not reach outside the folder."""
    if not _NAME.fullmatch(name):
        raise RecordError(f"not a clip's name: {name[:80]!r}")
