"""Large letters out of block characters, readable across a cockpit, in three sizes.

The forms are in lettering.txt (eight rows, drawn large and double) and small_lettering.txt (five rows,
capitals): the size between large letters and plain words.
"""

from collections.abc import Mapping
from enum import StrEnum
from functools import cache
from importlib.resources import files
from textwrap import wrap
from types import MappingProxyType
from typing import Final


class Size(StrEnum):
    """How large; each is about half of the one before."""

    DOUBLE = "double"
    LARGE = "large"
    SMALL = "small"


ROWS: Final = 4
"""Lines of text that one line of large lettering takes."""
_LINES: Final = MappingProxyType({Size.DOUBLE: 2 * ROWS, Size.LARGE: ROWS, Size.SMALL: 3})
_FILES: Final = MappingProxyType(
    {Size.DOUBLE: "lettering.txt", Size.LARGE: "lettering.txt", Size.SMALL: "small_lettering.txt"}
)
_HALVES: Final = MappingProxyType({"..": " ", "#.": "▀", ".#": "▄", "##": "█"})

Form = tuple[str, ...]
"""One letter: rows of # and dots, all of one width."""


@cache
def letterforms(size: Size = Size.LARGE) -> Mapping[str, Form]:
    """Every letter that can be drawn in that size."""
    text = (files("runner.screen.full") / _FILES[size]).read_text(encoding="utf-8")
    forms: dict[str, Form] = {}
    for band in text.strip().split("\n\n"):
        letters, *rows = (line.split() for line in band.splitlines())
        forms.update(zip(letters, zip(*rows, strict=True), strict=True))
    height = len(next(iter(forms.values())))
    forms[" "] = ("..",) * height
    if size is Size.SMALL:
        forms |= {letter.lower(): form for letter, form in forms.items()}
    return MappingProxyType(forms)


def letter(text: str, width: int, height: int, size: Size = Size.LARGE) -> tuple[str, ...] | None:
    """The text as lines of block characters within width and height, or None when it does not fit."""
    forms = letterforms(size)
    if any(character not in forms for character in text):
        return None
    rows = _break(text, width, size)
    if rows is None or len(rows) * _LINES[size] > height:
        return None
    has_room = size is not Size.SMALL and len(rows) * (_LINES[size] + 1) - 1 <= height
    gap = ("",) if has_room else ()
    lines = [line for row in rows for line in (*gap, *_draw(row, size))]
    return tuple(lines[len(gap) :])


def drawn_width(text: str, size: Size = Size.LARGE) -> int:
    """Cells that a row of lettering takes, one free pixel between letters."""
    pixels = sum(len(letterforms(size)[character][0]) + 1 for character in text) - 1
    return 2 * pixels if size is Size.DOUBLE else pixels


def _break(text: str, width: int, size: Size) -> tuple[str, ...] | None:
    """Rows of whole words, as even as the fewest rows allow; None when a word is too wide."""
    for characters in range(len(text), 0, -1):
        rows = wrap(text, characters, break_long_words=False, break_on_hyphens=False)
        if all(drawn_width(row, size) <= width for row in rows):
            return _evened(rows, text)
    return None


def _evened(rows: list[str], text: str) -> tuple[str, ...]:
    """The same number of rows, the longest as short as can be."""
    best = rows
    for characters in range(max(map(len, rows)), 0, -1):
        tried = wrap(text, characters, break_long_words=False, break_on_hyphens=False)
        if len(tried) > len(rows):
            break
        best = tried
    return tuple(best)


def _draw(row: str, size: Size) -> tuple[str, ...]:
    """One row of letters: a line for each row of pixels in double size, else for two of them."""
    forms = letterforms(size)
    pixels = [".".join(forms[character][y] for character in row) for y in range(len(forms[" "]))]
    if size is Size.DOUBLE:
        return tuple("".join(2 * _HALVES[2 * pixel] for pixel in line).rstrip() for line in pixels)
    pixels += ["." * len(pixels[0])] * (len(pixels) % 2)
    return tuple(
        "".join(_HALVES[upper + lower] for upper, lower in zip(*pair, strict=True)).rstrip()
        for pair in zip(pixels[::2], pixels[1::2], strict=True)
    )
