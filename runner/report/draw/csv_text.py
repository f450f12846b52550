"""Rows as comma-separated values (RFC 4180), safe to open in a spreadsheet."""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from typing import Final

from runner.visible import visible

NUMBER: Final = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")
Cell = str | float | bool | None

FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")
"""What a spreadsheet takes for a formula at the start of a text."""


def csv_text(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """The whole file: a line of column names, then a line a row; numbers as they are, None as nothing.

    A text that a spreadsheet would run as a formula gets an apostrophe in front of it.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heads)
    writer.writerows([_cell(cell) for cell in row] for row in rows)
    return out.getvalue()


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, str):
        is_formula = cell.lstrip().startswith(FORMULA) and not NUMBER.fullmatch(cell)
        return f"'{visible(cell)}" if is_formula or cell.startswith(FORMULA[-2:]) else visible(cell)
    return f"{cell:.3f}".rstrip("0").rstrip(".")
