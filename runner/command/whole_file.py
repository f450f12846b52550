"""Files that a user names for what is written: there whole or not at all, and never in a device's place."""

import contextlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from runner.errors import UsageError


@contextlib.contextmanager
def whole_file(path: Path) -> Iterator[IO[bytes]]:
    """A file to write into, moved to its place at the end; UsageError when that cannot be done.

    A device or a pipe, such as /dev/stdout, is written into as it is.
    """
    try:
        if not path.name or path.is_dir():
            raise UsageError(f'cannot write "{path}": it is a folder; name a file in it')
        is_special = path.exists() and not path.is_file()
        beside = path if is_special else path.with_name(f".{path.name}.part")
        with beside.open("wb") as file, _gone_unless_moved(beside, is_special=is_special):
            yield file
            file.flush()
            if not is_special:
                beside.replace(path)
    except OSError as error:
        raise UsageError(f"cannot write {path}: {error.strerror}") from None


@contextlib.contextmanager
def _gone_unless_moved(beside: Path, *, is_special: bool) -> Iterator[None]:
    try:
        yield
    finally:
        if not is_special:
            beside.unlink(missing_ok=True)


def write_whole(path: Path, words: str) -> None:
    """A whole text, as above."""
    with whole_file(path) as file:
        file.write(words.encode())
