"""Tables of plain text: columns as wide as their widest cell, and narrower where a terminal asks for it."""

from collections.abc import Iterable, Sequence
from itertools import zip_longest
from textwrap import wrap
from typing import Final

from runner.visible import visible

GAP: Final = "  "
_FEWEST: Final = 4
"""Cells that a column keeps in the narrowest terminal, where even words are broken."""


def table(rows: Iterable[Sequence[str]], indent: str = "  ", width: int | None = None) -> list[str]:
    """Lines with every column but the last padded to its widest cell; short rows are filled up.

    A row of one cell is a heading across all columns. With `width`, cells of the terminal, the widest
    columns are wrapped until a line fits.
    """
    listed = [tuple(map(visible, row)) for row in rows]
    count = max((len(row) for row in listed), default=0)
    filled = [row if len(row) == 1 < count else (*row, *("",) * (count - len(row))) for row in listed]
    columns = list(zip(*(row for row in filled if len(row) == count), strict=True))
    widths = [max(map(len, column)) for column in columns]
    if width is not None:
        words = [max(map(_longest_word, column)) for column in columns]
        widths = _narrowed(widths, words, width - len(indent) - len(GAP) * (count - 1))
    return [line for row in filled for line in _lines(row, widths, indent)]


def _longest_word(cell: str) -> int:
    return max(map(len, cell.split()), default=0)


def _narrowed(widths: list[int], words: list[int], room: int) -> list[int]:
    """The widest column gives way first, down to its longest word; only then are words broken."""
    narrowed = list(widths)
    for least in (words, [_FEWEST] * len(widths)):
        while sum(narrowed) > room:
            wide = [number for number, cells in enumerate(narrowed) if cells > least[number]]
            if not wide:
                break
            narrowed[max(wide, key=narrowed.__getitem__)] -= 1
    return narrowed


def _lines(row: Sequence[str], widths: Sequence[int], indent: str) -> list[str]:
    if len(row) < len(widths):
        return [indent + row[0]]
    cells = [
        [cell] if len(cell) <= width else wrap(cell, width, break_on_hyphens=False)
        for cell, width in zip(row, widths, strict=True)
    ]
    return [
        (indent + GAP.join(part.ljust(width) for part, width in zip(parts, widths, strict=True))).rstrip()
        for parts in zip_longest(*cells, fillvalue="")
    ]
