"""The grid drawn: a Markdown table that reads as plain text too, a line for all states with the same cell."""

from collections.abc import Iterator, Mapping

from runner.core.grid.grid_cell import Cell
from runner.core.grid.table import CORRECTED, EVENTS, FLAG, PICKED, UNHEARD, VALUE, WORDS
from runner.core.state import State

HEAD = ("what happens", "in", "what is done", "leads to")
LASTING = "*"
"""Stands behind what counts for the turn before as well."""


def render_table() -> str:
    """The whole grid: what is said, word by word, then the other events."""
    rows = [HEAD, *_answer_lines()]
    for row in dict.fromkeys(EVENTS.values()):
        rows += _lines(", ".join(kind.__name__ for kind in row.kinds), row.cells)
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = [[cell.ljust(width) for cell, width in zip(row, widths, strict=True)] for row in rows]
    lines.insert(1, ["-" * width for width in widths])
    return "".join(f"| {' | '.join(line)} |\n" for line in lines)


def _answer_lines() -> Iterator[tuple[str, ...]]:
    yield from _lines("a named answer", PICKED.cells)
    yield from _lines("a number", VALUE.cells)
    yield from _lines("a correction with its answer" + LASTING, CORRECTED.cells)
    yield from _lines("a flag pulled or stuck" + LASTING, FLAG.cells)
    for word, row in WORDS.items():
        yield from _lines(f'"{word}"{LASTING if row.is_lasting else ""}', row.cells)
    yield from _lines("any other word", UNHEARD)


def _lines(name: str, cells: Mapping[State, Cell[object]]) -> Iterator[tuple[str, ...]]:
    """Cells that are alike share a line."""
    for cell in dict.fromkeys(cells.values()):
        states = ", ".join(state for state in State if cells.get(state) == cell)
        done = "ignored" if cell.act is None else getattr(cell.act, "__name__", "").replace("_", " ")
        yield name, states, done, ", ".join(cell.targets)
