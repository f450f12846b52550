"""The one place that imports fpdf: sets a sheet as a PDF, on one page at the largest letters that fit."""

from __future__ import annotations

import importlib.util
from collections.abc import Callable
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, cast

from runner.errors import UsageError
from runner.report.draw.paper_sheet import Block, Columns, Discrepancy, Facts, Heading, Sheet, Top, Words
from runner.visible import visible_in

if TYPE_CHECKING:
    from fpdf import FPDF


class PaperSize(StrEnum):
    """Sheets that offices have."""

    A4 = "a4"
    LETTER = "letter"


SIZES: Final = (9.0, 8.5, 8.0, 7.5, 7.0)
"""Letters, points, from what reads well to what still reads; what needs two pages has the largest."""
MARGIN: Final = 14.0
FOOT: Final = 14.0
HAND: Final = 6.5
"""Room for a line of handwriting, millimetres, as the margins are."""
LEADING: Final = 1.3
"""Line over letter height (NASA CR-177605, from memory: 25 to 33 % between lines)."""
POINT: Final = 25.4 / 72
AMBER: Final = (255, 176, 0)
SOFT: Final = 72
"""Grey of what is beside the point: 9 to 1 on white."""


def pdf_of(sheet: Sheet, size: PaperSize) -> bytes:
    """The PDF file; UsageError when the libraries for it are not installed."""
    sheet, fonts = visible_in(sheet), _fonts()
    largest = _set(sheet, size, SIZES[0], fonts)
    if largest.page_no() == 1:
        return _printed(largest)
    smallest = _set(sheet, size, SIZES[-1], fonts)
    if smallest.page_no() > 1:
        _close_fonts(smallest)
        return _printed(largest)
    _close_fonts(largest)
    for points in SIZES[1:-1]:
        between = _set(sheet, size, points, fonts)
        if between.page_no() == 1:
            _close_fonts(smallest)
            return _printed(between)
        _close_fonts(between)
    return _printed(smallest)


def _printed(page: FPDF) -> bytes:
    content = bytes(page.output())
    _close_fonts(page)
    return content


def _close_fonts(page: FPDF) -> None:
    """Fpdf reads its fonts as it needs them, and never closes their files."""
    from fpdf.fonts import TTFFont  # noqa: PLC0415 - only who prints needs it

    for font in page.fonts.values():
        if isinstance(font, TTFFont):
            font.ttfont.close()


def _fonts() -> Path:
    """The folder of DejaVu Sans, which holds any Latin, Greek or Cyrillic name."""
    found = importlib.util.find_spec("matplotlib")
    if found is None or found.origin is None or importlib.util.find_spec("fpdf") is None:
        raise UsageError('a PDF needs more libraries; install them with: pip install "eyesout[paper]"')
    return Path(found.origin).parent / "mpl-data" / "fonts" / "ttf"


def _set(sheet: Sheet, size: PaperSize, points: float, fonts: Path) -> FPDF:
    from fpdf import FPDF  # noqa: PLC0415 - only who prints needs it

    class Page(FPDF):
        def footer(self) -> None:
            self.set_y(-FOOT + 3)
            self.set_font("sans", size=6.5)
            self.set_text_color(SOFT)
            self.multi_cell(0, 6.5 * POINT * LEADING, f"{sheet.foot} Page {self.page_no()} of {{nb}}.")
            self.set_text_color(0)

    page = Page(format=size.value)
    page.set_margins(MARGIN, MARGIN - 2, MARGIN)
    page.set_auto_page_break(auto=True, margin=FOOT)
    page.add_font("sans", "", fonts / "DejaVuSans.ttf")
    page.add_font("sans", "B", fonts / "DejaVuSans-Bold.ttf")
    page.c_margin = 0.0
    page.set_title(sheet.title)
    page.set_lang("en")
    page.set_creation_date(datetime.fromtimestamp(sheet.at, UTC))
    page.add_page()
    setter = _Setter(page, points)
    for block, following in zip(sheet.blocks, (*sheet.blocks[1:], None), strict=True):
        setter.keep_together(block, following)
        setter.put(block)
    return page


class _Setter:
    """Sets blocks one below the other."""

    def __init__(self, page: FPDF, points: float) -> None:
        self.page = page
        self.points = points

    def put(self, block: Block) -> None:
        """Any block."""
        setters: dict[type[Block], Callable[[Any], None]] = {
            Top: self._top,
            Words: self._words,
            Facts: self._facts,
            Heading: self._heading,
            Discrepancy: self._discrepancy,
            Columns: self._columns,
        }
        setters[type(block)](block)

    def keep_together(self, block: Block, following: Block | None) -> None:
        """Begin a page where a squawk would be torn, or a heading would stand without what it heads."""
        height = self._height(block)
        if isinstance(block, Heading) and following is not None:
            height += self._height(following)
        if self.page.will_page_break(height):
            self.page.add_page()

    def _height(self, block: Block) -> float:
        """Room that must be left for the beginning of a block, or for all of it, millimetres."""
        match block:
            case Discrepancy():
                words = (block.title, *block.lines)
                return sum(map(self._text_height, words)) + (HAND + self._line(2) if block.to_fill_in else 0)
            case Words():
                return self._text_height(block.text)
            case Heading():
                return self._line(1) + 4
            case Columns():
                return self._line(4)
            case Top() | Facts():
                return self._line(2)

    def _text_height(self, words: str) -> float:
        """With a little to spare, since a title begins behind its tag."""
        self._font(is_bold=True)
        return cast(
            "float",
            self.page.multi_cell(0, self._line(), f"squawk  {words}", dry_run=True, output="HEIGHT"),
        )

    def _line(self, share: float = 1.0) -> float:
        """Height of a line, millimetres."""
        return self.points * share * POINT * LEADING

    def _font(self, *, is_bold: bool = False, share: float = 1.0) -> None:
        self.page.set_font("sans", "B" if is_bold else "", self.points * share)

    def _text(self, words: str, *, is_bold: bool = False, share: float = 1.0, align: str = "L") -> None:
        self._font(is_bold=is_bold, share=share)
        self.page.multi_cell(0, self._line(share), words, align=align, new_x="LMARGIN", new_y="NEXT")

    def _rule(self, gap: float) -> None:
        self.page.ln(gap)
        y = self.page.get_y()
        self.page.set_line_width(0.2)
        self.page.line(self.page.l_margin, y, self.page.w - self.page.r_margin, y)
        self.page.ln(gap)

    def _top(self, top: Top) -> None:
        start = self.page.get_y()
        self._text(top.result, is_bold=True, share=1.4, align="R")
        for words in top.counts:
            self._text(words, align="R")
        right_end = self.page.get_y()
        self.page.set_y(start)
        self._font(is_bold=True, share=2.0)
        width = self.page.epw * 0.68
        self.page.multi_cell(width, self._line(2.0), top.name, align="L", new_x="LMARGIN", new_y="NEXT")
        self._font(share=1.1)
        self.page.multi_cell(width, self._line(1.1), top.about, align="L", new_x="LMARGIN", new_y="NEXT")
        self.page.set_y(max(right_end, self.page.get_y()))
        self._rule(1.5)

    def _words(self, words: Words) -> None:
        self._font(is_bold=words.is_bold)
        self.page.multi_cell(
            0,
            self._line(),
            words.text,
            align="L",
            border=1 if words.is_framed else 0,
            padding=1 if words.is_framed else 0,
            new_x="LMARGIN",
            new_y="NEXT",
        )
        self.page.ln(0.8)

    def _facts(self, facts: Facts) -> None:
        column = self.page.epw / 3
        for first in range(0, len(facts.pairs), 3):
            start = self.page.get_y()
            ends = [
                self._fact(pair, self.page.l_margin + place * column, start, column - 4)
                for place, pair in enumerate(facts.pairs[first : first + 3])
            ]
            self.page.set_y(max(ends) + 0.8)

    def _fact(self, pair: tuple[str, str], x: float, y: float, width: float) -> float:
        name, value = pair
        self.page.set_xy(x, y)
        self._font(share=0.9)
        self.page.set_text_color(SOFT)
        self.page.multi_cell(width, self._line(0.9), name, align="L", new_x="LEFT", new_y="NEXT")
        self.page.set_text_color(0)
        self._font()
        self.page.multi_cell(width, self._line(), value, align="L", new_x="LEFT", new_y="NEXT")
        return self.page.get_y()

    def _heading(self, heading: Heading) -> None:
        self._rule(1.4)
        self.page.start_section(heading.text)
        self._text(heading.text, is_bold=True)
        self.page.ln(0.6)

    def _discrepancy(self, found: Discrepancy) -> None:
        self._font(is_bold=True)
        self.page.set_fill_color(*AMBER)
        self.page.cell(self.page.get_string_width("squawk") + 3, self._line(), "squawk", fill=True, align="C")
        self.page.set_fill_color(255)
        self.page.cell(1.5)
        self._text(found.title, is_bold=True)
        for words in found.lines:
            self._text(words)
        if found.to_fill_in:
            self._blanks(found.to_fill_in)
        self.page.ln(1.2)

    def _blanks(self, blanks: tuple[tuple[str, float], ...]) -> None:
        """A line of blanks with their names below it."""
        self.page.ln(HAND)
        x, y = self.page.l_margin, self.page.get_y()
        self._font(share=0.75)
        self.page.set_text_color(SOFT)
        for name, share in blanks:
            width = share * self.page.epw
            self.page.line(x, y, x + width - 3, y)
            self.page.set_xy(x, y + 0.3)
            self.page.cell(width, self._line(0.75), name)
            x += width
        self.page.set_text_color(0)
        self.page.set_xy(self.page.l_margin, y + self._line(0.75) + 0.5)

    def _columns(self, columns: Columns) -> None:
        from fpdf.fonts import FontFace  # noqa: PLC0415 - only who prints needs it

        self._font(share=0.92)
        with self.page.table(
            borders_layout="HORIZONTAL_LINES" if columns.heads else "NONE",
            col_widths=columns.widths,
            first_row_as_headings=bool(columns.heads),
            headings_style=FontFace(color=SOFT),
            line_height=self._line(0.92),
            text_align="LEFT",
            v_align="TOP",
            padding=(0.15, 1.5, 0.15, 0),
        ) as table:
            self.page.set_draw_color(200)
            for row in (columns.heads, *columns.rows) if columns.heads else columns.rows:
                table.row(row)
        self.page.set_draw_color(0)
        self.page.ln(0.8)
