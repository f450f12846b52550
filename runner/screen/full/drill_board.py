"""The board of a drill: the played panel beside the challenge, in columns where there is room."""

from __future__ import annotations

from typing import Final

from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from runner.screen.drill_view import HAND, DrillRow, DrillView
from runner.screen.view_wording import departure

COLUMN: Final = 46
"""Cells that a row takes with room for its words."""
GAP: Final = 2
NAME: Final = 24
"""Cells for a name, where the words leave so many."""


class DrillBoard(Widget):
    """Every row of the panel, those around the cursor where not all fit."""

    def __init__(self) -> None:
        super().__init__(id="board")
        self._drill: DrillView | None = None
        self._cursor = 0

    def show(self, drill: DrillView | None, cursor: int, cells: int) -> None:
        """Draw these rows over so many cells, 0 for all; nothing happens when they stand there already."""
        self.display = drill is not None
        self.styles.width = cells or "1fr"
        if (drill, cursor) != (self._drill, self._cursor):
            self._drill, self._cursor = drill, cursor
            self.refresh()

    def render(self) -> RenderResult:
        """As many columns as there is room for, each group under its heading."""
        drill, (width, height) = self._drill, self.size
        if drill is None or width < 1 or height < 1:
            return Content("")
        heads = _heads(drill, width)[:height]
        columns = max(1, (width + GAP) // (COLUMN + GAP))
        each = (width - GAP * (columns - 1)) // columns
        lines = _lines(drill, self._cursor, each)
        shown = _around(lines, self._cursor, (height - len(heads)) * columns)
        return Content("\n").join([*heads, *_abreast(shown, columns, each)])


def _around(lines: list[tuple[int, Content]], cursor: int, room: int) -> list[Content]:
    """As many lines as there is room for, those around the cursor."""
    at = next((number for number, (row, _) in enumerate(lines) if row == cursor), 0)
    first = min(max(0, at - room // 2), max(0, len(lines) - room))
    return [line for _, line in lines[first : first + room]]


def _abreast(lines: list[Content], columns: int, width: int) -> list[Content]:
    """Lines in columns of equal height, read downward."""
    per = max(1, -(-len(lines) // columns))
    split = [lines[number : number + per] for number in range(0, len(lines), per)]
    gap = Content(" " * GAP)
    return [
        gap.join([_padded(column[number], width) for column in split if number < len(column)])
        for number in range(max(map(len, split), default=0))
    ]


def _padded(line: Content, width: int) -> Content:
    return line.pad_right(max(0, width - line.cell_length))


def _heads(drill: DrillView, width: int) -> list[Content]:
    """Who waits, what was told, and how long there is."""
    lines = []
    if drill.caller:
        lines += Content.styled(drill.caller, "bold reverse").wrap(width)
        lines += [Content.assemble(("=", "bold reverse"), f" {drill.reply}").truncate(width, ellipsis=True)]
    elif drill.told:
        lines += [Content.styled(f"“{drill.told}”", "italic").truncate(width, ellipsis=True)]
    if drill.left_seconds is not None:
        lines += [Content(departure(drill)).truncate(width, ellipsis=True)]
    return lines


def _lines(drill: DrillView, cursor: int, width: int) -> list[tuple[int, Content]]:
    """Rows with their numbers; headings have -1."""
    lines: list[tuple[int, Content]] = []
    group = ""
    for number, row in enumerate(drill.rows):
        if row.group != group:
            group = row.group
            lines.append((-1, Content.styled(f"─ {group} ".ljust(width, "─"), "bold")))
        lines += [(number, line) for line in _drawn(row, width, is_here=number == cursor)]
    return lines


def _drawn(row: DrillRow, width: int, *, is_here: bool) -> list[Content]:
    """Shape, name, and what is seen in a column of its own, or on a line of its own where it is long."""
    words = f"[{row.words}]" if row.shape == HAND else row.words
    name = f"{row.shape} {row.name:<{NAME}} "
    if len(name) + len(words) <= width:
        lines = [Content.assemble(name, (words, "bold"))]
    elif len(row.name) + len(words) + 3 <= width:
        gap = " " * (width - len(row.name) - len(words) - 2)
        lines = [Content.assemble(f"{row.shape} {row.name}{gap}", (words, "bold"))]
    else:
        below = Content.styled(words, "bold").wrap(max(1, width - 4))
        lines = [Content(f"{row.shape} {row.name}"), *(Content("    ") + line for line in below)]
    cut = [line.truncate(width, ellipsis=True) for line in lines]
    if is_here:
        return [Content.styled(line.plain.ljust(width), "reverse bold") for line in cut]
    return cut
