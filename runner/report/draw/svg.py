"""SVG marks: the few shapes that the diagrams are made of, legible in black and white.

Places and sizes are in the drawing's user units.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final
from xml.sax.saxutils import escape

from runner.visible import visible

FONT: Final = "DejaVu Sans, Verdana, Helvetica, sans-serif"
INK: Final = "#000000"
FAINT: Final = "#595959"
"""The grey of what is dead: still 7 to 1 against white paper."""
SIZE: Final = 11.0
LINE: Final = 15.0
WIDTH_OF_LETTER: Final = 0.61
WIDTH_OF_BOLD_LETTER: Final = 0.69
"""Mean width of a letter over its size, for the widest font of the list."""
ARROW: Final = (
    '<defs><marker id="arrow" viewBox="0 0 10 10" refX="9" refY="5" markerUnits="userSpaceOnUse" '
    'markerWidth="10" markerHeight="10" orient="auto"><path d="M0,0 L10,5 L0,10 z"/></marker></defs>'
)


def text_width(words: str, *, is_bold: bool = False) -> float:
    """Pixels that the words need at most, at the usual size."""
    return len(words) * SIZE * (WIDTH_OF_BOLD_LETTER if is_bold else WIDTH_OF_LETTER)


def text(
    words: str,
    x: float,
    y: float,
    *,
    size: float = SIZE,
    ink: str = INK,
    bold: bool = False,
    anchor: str = "start",
) -> str:
    """Words with their baseline at y."""
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}" fill="{ink}" text-anchor="{anchor}"{weight}>'
        f"{escape(visible(words))}</text>"
    )


def box(x: float, y: float, width: float, height: float, *, live: bool, round_: float = 0.0) -> str:
    """A box: a thick line when live, a thin dashed one when dead."""
    return (
        f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" rx="{round_:g}" '
        f'fill="#ffffff" {_stroke(live=live)}/>'
    )


def line(points: Iterable[tuple[float, float]], *, live: bool, arrow: bool = False) -> str:
    """A wire: thick when it conducts, thin and dashed when it does not."""
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    head = ' marker-end="url(#arrow)"' if arrow else ""
    return f'<polyline points="{path}" fill="none" {_stroke(live=live)}{head}/>'


def dot(x: float, y: float, *, live: bool) -> str:
    """The mark of a load: full when alive, hollow when dead."""
    fill, stroke = (INK, INK) if live else ("#ffffff", FAINT)
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.6" fill="{fill}" stroke="{stroke}" stroke-width="1.2"/>'


def page(width: float, height: float, title: str, marks: Iterable[str]) -> str:
    """The whole document on white paper."""
    size = f'width="{width:.0f}" height="{height:.0f}"'
    view = f'viewBox="0 0 {width:.0f} {height:.0f}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view} font-family="{FONT}" role="img">'
    paper = f'<rect {size} fill="#ffffff"/>'
    return "\n".join((head, f"<title>{escape(visible(title))}</title>", ARROW, paper, *marks, "</svg>", ""))


def _stroke(*, live: bool) -> str:
    return (
        f'stroke="{INK}" stroke-width="2.4"'
        if live
        else f'stroke="{FAINT}" stroke-width="1" stroke-dasharray="5 4"'
    )
