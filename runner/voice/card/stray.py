"""Keeps the error lines of C libraries off a screen: ALSA, PortAudio and others write them unasked."""

import contextlib
import os
import sys
from collections.abc import Iterator


@contextlib.contextmanager
def keep_stray_lines_off() -> Iterator[None]:
    """While inside, file descriptor 2 leads nowhere, and Python's own standard error still to the terminal.

    Textual draws through `sys.__stderr__`, so that one has to move along.
    """
    kept, nowhere = os.dup(2), os.open(os.devnull, os.O_WRONLY)
    before, original = sys.stderr, sys.__stderr__
    terminal = os.fdopen(kept, "w", encoding="utf-8", errors="backslashreplace", buffering=1)
    before.flush()
    os.dup2(nowhere, 2)
    sys.__stderr__ = terminal  # type: ignore[misc]  # it has to move, see above
    if before is original:
        sys.stderr = terminal
    try:
        yield
    finally:
        sys.stderr = before
        sys.__stderr__ = original  # type: ignore[misc]  # as above
        terminal.flush()
        os.dup2(kept, 2)
        terminal.close()
        os.close(nowhere)
