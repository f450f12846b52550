"""Bars out of block characters: how far, against marks. Pure text, so that they need no colour."""

from collections.abc import Iterable
from typing import Final

FULL: Final = "■"
EMPTY: Final = "─"
MARK: Final = "│"


def bar(share: float, width: int, marks: Iterable[float] = ()) -> str:
    """A bar of `width` cells filled to `share` (0 to 1, cut off beyond), with marks on the empty part."""
    filled = round(min(max(share, 0.0), 1.0) * width)
    cells = [FULL] * filled + [EMPTY] * (width - filled)
    for mark in marks:
        at = min(int(mark * width), width - 1)
        if at >= filled:
            cells[at] = MARK
    return "".join(cells)
