"""The block under a bus diagram: which seat keeps what, what works in part, and what is gone."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Final

from runner.airplane.life.seat import PILOT_SENSES, SeatView
from runner.airplane.model.instrument import Sense
from runner.airplane.model.rule import ROWS
from runner.language.catalogue import DRAWN_ADVISORY
from runner.report.bus.bus_report import BusReport, power_words
from runner.report.draw import svg

LETTERS_IN_LINE: Final = 118
COLUMN_GAP: Final = 18.0


class SeatBlock:
    """The block with its size, to be drawn at any height."""

    def __init__(self, report: BusReport) -> None:
        self._rows = [_head(report), *(_row(report, sense, *report.views()) for sense in PILOT_SENSES)]
        self._lines = list(_closing(report))
        self._columns = [
            max(svg.text_width(row[column], is_bold=True) for row in self._rows) + COLUMN_GAP
            for column in range(3)
        ]

    @property
    def width(self) -> float:
        """Pixels across."""
        return max(sum(self._columns), *(svg.text_width(words) for words in self._lines))

    @property
    def height(self) -> float:
        """Pixels down."""
        return (len(self._rows) + len(self._lines) + 1) * svg.LINE

    def marks(self, x: float, y: float) -> Iterator[str]:
        """The block with its first baseline at y, in user units."""
        for number, row in enumerate(self._rows):
            at_x = x
            for column, cell in enumerate(row):
                is_bold = number == 0 or column == 0
                yield svg.text(cell, at_x, y, bold=is_bold, ink=svg.FAINT if cell == NONE else svg.INK)
                at_x += self._columns[column]
            y += svg.LINE
        y += svg.LINE / 2
        for words in self._lines:
            yield svg.text(words, x, y)
            y += svg.LINE


NONE: Final = "none"


def _head(report: BusReport) -> tuple[str, str, str]:
    left, right = (_seat(report, view) for view in report.views())
    return "", left, right


def _seat(report: BusReport, view: SeatView) -> str:
    count = sum(view.meets(row) for row in ROWS)
    mark = "  FULLER SET" if report.fuller is view.seat else ""
    return f"{view.seat} seat: {count} of {len(ROWS)} rows of 91.205(d){mark}"


def _row(report: BusReport, sense: Sense, left: SeatView, right: SeatView) -> tuple[str, str, str]:
    cells = [
        "; ".join(dict.fromkeys(power_words(report, kept) for kept in view.kept[sense])) or NONE
        for view in (left, right)
    ]
    return str(sense), cells[0], cells[1]


def _closing(report: BusReport) -> Iterator[str]:
    partial = [f"{name} ({', '.join(dead)} dead)" for name, _, dead in report.partial()]
    if partial:
        yield from _wrapped("In part: " + ", ".join(partial))
    for service, names in report.gone():
        yield from _wrapped(f"Gone, {service}: " + (", ".join(names) or "nothing"))
    yield DRAWN_ADVISORY


def _wrapped(words: str) -> list[str]:
    return textwrap.wrap(words, LETTERS_IN_LINE, subsequent_indent="    ")
