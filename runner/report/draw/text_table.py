"""Tables of plain text: columns as wide as their widest cell, the last one free."""

from collections.abc import Iterable, Sequence

from runner.visible import visible

GAP = "  "


def table(rows: Iterable[Sequence[str]], indent: str = "  ") -> list[str]:
    """Lines with every column but the last padded to its widest cell; short rows are filled up."""
    listed = [tuple(map(visible, row)) for row in rows]
    count = max((len(row) for row in listed), default=0)
    filled = [(*row, *("",) * (count - len(row))) for row in listed]
    widths = [max(map(len, column)) for column in zip(*filled, strict=True)]
    return [_line(row, widths, indent) for row in filled]


def _line(row: Sequence[str], widths: Sequence[int], indent: str) -> str:
    cells = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
    return (indent + GAP.join(cells)).rstrip()
