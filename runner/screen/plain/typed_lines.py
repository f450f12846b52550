"""Lines as they are typed, which a run that ends can call back: nobody has to press enter for nothing."""

import codecs
import io
import os
import selectors
import sys
from collections.abc import Iterator
from typing import Final, TextIO

_CHUNK: Final = 65_536


class TypedLines:
    """The lines of a stream, until it ends or `stop` is called, from whichever thread."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._is_stopped = False
        self._number = _descriptor(stream)
        self._woken, self._waker = os.pipe() if self._number is not None else (-1, -1)

    def stop(self) -> None:
        """No line comes any more; a read that waits ends at once, where the system lets it."""
        self._is_stopped = True
        if self._number is not None:
            os.write(self._waker, b"\n")

    def __iter__(self) -> Iterator[str]:
        """Each line as it comes."""
        lines = iter(self._stream) if self._number is None else self._waited_for(self._number)
        for line in lines:
            if self._is_stopped:
                return
            yield line

    def _waited_for(self, number: int) -> Iterator[str]:
        decoder = codecs.getincrementaldecoder(self._stream.encoding or "utf-8")("replace")
        rest = ""
        with selectors.DefaultSelector() as selector:
            selector.register(number, selectors.EVENT_READ)
            selector.register(self._woken, selectors.EVENT_READ)
            while not any(key.fd == self._woken for key, _ in selector.select()):
                chunk = os.read(number, _CHUNK)
                rest += decoder.decode(chunk, final=not chunk)
                *lines, rest = rest.split("\n")
                yield from lines
                if not chunk:
                    yield from filter(None, [rest])
                    return


def _descriptor(stream: TextIO) -> int | None:
    """The stream's file descriptor, where it can be waited for together with another."""
    try:
        number = stream.fileno()
        with selectors.DefaultSelector() as selector:
            selector.register(number, selectors.EVENT_READ)
    except (OSError, ValueError, io.UnsupportedOperation):  # no file behind it, or one that never waits
        return None
    return None if sys.platform == "win32" else number
