"""Large letters out of half blocks, readable across a cockpit; the forms are in lettering.txt."""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from textwrap import wrap
from types import MappingProxyType
from typing import Final

ROWS: Final = 4
"""Lines of text that one line of lettering takes."""
_SPACE: Final = ("..",) * (2 * ROWS)
_HALVES: Final = MappingProxyType({"..": " ", "#.": "▀", ".#": "▄", "##": "█"})

Form = tuple[str, ...]
"""One letter: eight rows of # and dots, all of one width."""


@cache
def letterforms() -> Mapping[str, Form]:
    """Every letter that can be drawn."""
    text = (files("runner.screen.full") / "lettering.txt").read_text(encoding="utf-8")
    forms = {" ": _SPACE}
    for band in text.strip().split("\n\n"):
        letters, *rows = (line.split() for line in band.splitlines())
        forms.update(zip(letters, zip(*rows, strict=True), strict=True))
    return MappingProxyType(forms)


def letter(text: str, width: int, height: int) -> tuple[str, ...] | None:
    """The text as lines of block characters within width and height, or None when it does not fit."""
    forms = letterforms()
    if any(character not in forms for character in text):
        return None
    rows = _break(text, width)
    if rows is None or len(rows) * ROWS > height:
        return None
    gap = ("",) if len(rows) * (ROWS + 1) - 1 <= height else ()
    lines = [line for row in rows for line in (*gap, *_draw(row))]
    return tuple(lines[len(gap) :])


def drawn_width(text: str) -> int:
    """Cells that a row of lettering takes, one free cell between letters."""
    return sum(len(letterforms()[character][0]) + 1 for character in text) - 1


def _break(text: str, width: int) -> tuple[str, ...] | None:
    """Rows of whole words, as even as the fewest rows allow; None when a word is too wide."""
    for characters in range(len(text), 0, -1):
        rows = wrap(text, characters, break_long_words=False, break_on_hyphens=False)
        if all(drawn_width(row) <= width for row in rows):
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


def _draw(row: str) -> tuple[str, ...]:
    """One row of letters: two rows of the forms to a line."""
    pixels = tuple(".".join(letterforms()[character][y] for character in row) for y in range(2 * ROWS))
    return tuple(
        "".join(
            _HALVES[upper + lower] for upper, lower in zip(pixels[y], pixels[y + 1], strict=True)
        ).rstrip()
        for y in range(0, 2 * ROWS, 2)
    )
