"""Room: which bands of the screen a terminal has lines for, worked out before anything is drawn.

The item, its answers, running clocks and what has failed are never given up; where there is no room for
them the screen says so. The rest goes in the order of `GIVEN_UP`.
"""

from dataclasses import dataclass
from typing import Final

from textual.content import Content

from runner.screen import view_wording as wording
from runner.screen.full.dial import flat_lines
from runner.screen.full.drawn_item import fewest_lines
from runner.screen.full.lettering import Size
from runner.screen.view import View

WIDE: Final = 110
"""Cells from which on clocks stand beside the item."""
SIDE_CELLS: Final = 44
_NARROW_FRAME: Final = 4
"""Cells of edge and padding around the item."""
_WIDE_FRAME: Final = 3 + SIDE_CELLS + 4
_WORD_LINES: Final = 2
STACKED_UNDER: Final = 76
"""Cells across, under which a drill's panel stands below the item, not beside it."""
_BOARD_LINES: Final = 6
"""Of a drill's panel below the item, at least."""
_BOARD_COMFORT: Final = 16
"""Lines for which what is not looked at is given up beside a drill's panel."""
GIVEN_UP: Final = ("progress", "battery", "ear", "words", "put-off", "heard", "said")
"""What goes first where lines are few."""
_FOR_LETTERS: Final = GIVEN_UP[:3]


@dataclass(frozen=True, slots=True)
class Room:
    """What a terminal of some size can show of a view."""

    given_up: frozenset[str]
    is_too_small: bool
    body_lines: int = 0
    """Lines of the item, and of the clocks beside it."""
    has_clocks: bool = True
    """Clocks are drawn: not where the screen is too small, nor while it shows the keys instead."""


def room_for(view: View, width: int, height: int) -> Room:
    """Give up bands, one after another, until the rest has its lines.

    What is not looked at goes already so that the item can have letters that are seen from afar.
    """
    left = height - _kept(view, width, size=None)
    if view.shows_keys or left < 0:
        return Room(frozenset(GIVEN_UP), is_too_small=left < 0, has_clocks=False)
    lines = _lines_of_bands(view, width)
    given_up = _given_up(height - _kept(view, width, size=Size.SMALL), lines, _FOR_LETTERS)
    if left < sum(count for name, count in lines.items() if name not in given_up):
        given_up = _given_up(left, lines, GIVEN_UP)
    bands = sum(count for name, count in lines.items() if name not in given_up)
    return Room(frozenset(given_up), is_too_small=False, body_lines=height - _around(view, width) - bands)


def _given_up(left: int, lines: dict[str, int], names: tuple[str, ...]) -> list[str]:
    """Names in their order until the other bands fit into the lines that are left; maybe all of them."""
    given_up: list[str] = []
    for name in names:
        if left >= sum(count for other, count in lines.items() if other not in given_up):
            break
        given_up.append(name)
    return given_up


def _kept(view: View, width: int, size: Size | None) -> int:
    """Lines of what always stands: top line, item, clocks, failures, the standing caution."""
    is_wide = width >= WIDE
    across = width - (_WIDE_FRAME if is_wide else _NARROW_FRAME) - board_cells(view, width)
    pane = max(fewest_lines(view, across, size), 1)
    if view.drill is not None:
        pane = _with_board(pane, width, is_comfortable=size is not None)
    is_below = not (is_wide or view.shows_keys)
    clocks = sum(flat_lines(clock, width - _NARROW_FRAME) for clock in view.clocks if is_below)
    rule = 0 if is_wide else 1
    margins = 2 if is_wide else 0
    return pane + margins + clocks + rule + _around(view, width)


def board_cells(view: View, width: int) -> int:
    """Cells of a drill's panel beside the item; 0 where it stands below it or there is none."""
    if view.drill is None or width < STACKED_UNDER:
        return 0
    return (width - (3 + SIDE_CELLS if width >= WIDE else 2)) // 2


def _with_board(pane: int, width: int, *, is_comfortable: bool) -> int:
    """Lines of the item together with a drill's panel."""
    if width < STACKED_UNDER:
        return pane + _BOARD_LINES
    return max(pane, _BOARD_COMFORT) if is_comfortable else pane


def _around(view: View, width: int) -> int:
    """Lines of the top, of what has failed and of the standing caution."""
    texts = (wording.failures(view), wording.advisory(width - 2))
    return 1 + sum(_lines_of(text, width - 2) for text in texts)


def _lines_of_bands(view: View, width: int) -> dict[str, int]:
    is_wide = width >= WIDE
    put_off = "put off: " + " · ".join(view.put_off) if view.put_off else ""
    return {
        "progress": 1,
        "battery": 0 if is_wide or not view.battery.is_known else 1,
        "ear": 1,
        "words": _WORD_LINES if view.acting else 0,
        "put-off": 0 if is_wide else _lines_of(put_off, width - _NARROW_FRAME),
        "heard": _lines_of(wording.heard(view), width - 2),
        "said": _lines_of(wording.said(view), width - 2),
    }


def _lines_of(text: str, width: int) -> int:
    """Lines that the text takes; none for no text."""
    return len(Content(text).wrap(max(width, 1))) if text else 0
