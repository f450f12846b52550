"""Standard streams as they may be: closed, full, or in an encoding that lacks half of our signs."""

from __future__ import annotations

import codecs
import os
import shutil
import sys
import unicodedata
from pathlib import Path
from typing import Final, Literal, TextIO

from runner.errors import OutputError

_ERRORS: Final = "eyesout-nearest"
_NEAREST: Final = {
    "\N{EN DASH}": "-",
    "\N{EM DASH}": "-",
    "\N{MINUS SIGN}": "-",
    "\N{MULTIPLICATION SIGN}": "x",
    "\N{DEGREE SIGN}": "deg ",
    "\N{MIDDLE DOT}": "*",
    "\N{RIGHTWARDS ARROW}": "->",
    "\N{HORIZONTAL ELLIPSIS}": "...",
    "\N{LEFT SINGLE QUOTATION MARK}": "'",
    "\N{RIGHT SINGLE QUOTATION MARK}": "'",
    "\N{LATIN SMALL LETTER SHARP S}": "ss",
}
_BLOCKS: Final = range(0x2580, 0x25A0)
_BOXES: Final = range(0x2500, 0x2580)


def settle_streams() -> None:
    """Make the three streams usable; OutputError when standard output is closed.

    A closed one gets the null device, so that no file of ours is ever opened in its place. A sign that a
    stream's encoding lacks is written as the nearest that it has.
    """
    was_closed = sys.stdout is None
    sys.stdin = sys.stdin or _nothing("r")
    sys.stdout = sys.stdout or _nothing("w")
    sys.stderr = sys.stderr or _nothing("w")
    codecs.register_error(_ERRORS, nearest_signs)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors=_ERRORS)
    if was_closed:
        raise OutputError("standard output is closed, so that nothing can be shown; leave it open")


def leave_output() -> None:
    """Nothing more is written to standard output; what still waits for it is dropped."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, sys.stdout.fileno())
    except (OSError, ValueError):  # no file stands behind it
        return
    finally:
        os.close(nowhere)


def is_utf8(stream: TextIO) -> bool:
    """Whether it can show every sign."""
    try:
        return codecs.lookup(stream.encoding or "ascii").name == "utf-8"
    except LookupError:
        return False


def terminal_width(stream: TextIO) -> int | None:
    """Cells across of the terminal behind the stream; None for a file or a pipe, which has no edge."""
    return shutil.get_terminal_size().columns if stream.isatty() else None


def nearest_signs(error: UnicodeError) -> tuple[str, int]:
    """An error handler of `codecs`: letters without their marks, blocks as #, lines as - and |, else ?."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(map(_nearest, error.object[error.start : error.end])), error.end


def _nearest(sign: str) -> str:
    if sign in _NEAREST:
        return _NEAREST[sign]
    if ord(sign) in _BLOCKS:
        return "#"
    if ord(sign) in _BOXES:
        return "|" if "VERTICAL" in unicodedata.name(sign, "") else "-"
    # canonical parts only: with others, ten to the fifth would read as 105
    plain = unicodedata.normalize("NFD", sign).encode("ascii", "ignore").decode()
    return plain or "?"


def _nothing(mode: Literal["r", "w"]) -> TextIO:
    return Path(os.devnull).open(mode, encoding="utf-8")
