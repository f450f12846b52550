"""One process at a time may write a run; the operating system lets go when that process dies."""

from pathlib import Path
from urllib.parse import quote

import filelock

from runner.errors import RecordError


class RunLock:
    """Held from opening a run until it is closed, as a lock on a file in `folder`."""

    def __init__(self, folder: Path, run: str) -> None:
        try:
            folder.mkdir(parents=True, exist_ok=True)
            self._path = folder / f"{quote(run, safe=' +')}.lock"
            self._lock = filelock.FileLock(self._path)
            self._lock.acquire(blocking=False)
        except filelock.Timeout:
            raise RecordError(
                f"run {run} is open in another eyesout; finish or close that one first"
            ) from None
        except OSError as error:
            raise RecordError(f"cannot lock run {run} in {folder}: {error.strerror}") from None

    def release(self, *, is_final: bool = False) -> None:
        """Let go; `is_final` also removes the file, for a run that nobody can open again."""
        if is_final and self._lock.is_locked:
            self._path.unlink(missing_ok=True)
        self._lock.release()
