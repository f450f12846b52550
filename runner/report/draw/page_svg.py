"""SVG marks coloured by the page's style sheet, so that one drawing serves light and dark.

Places and sizes are in the drawing's user units.
"""

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from runner.visible import visible


def words(text: str, x: float, y: float, style: str = "", anchor: str = "start") -> str:
    """Text with its baseline at y."""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}"{_styled(style)}>{escape(visible(text))}</text>'
    )


def segment(start: tuple[float, float], end: tuple[float, float], style: str) -> str:
    """A straight line."""
    (x1, y1), (x2, y2) = start, end
    return f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}"{_styled(style)}/>'


def path(points: Iterable[tuple[float, float]], style: str) -> str:
    """A line through points."""
    return f'<polyline points="{" ".join(f"{x:.1f},{y:.1f}" for x, y in points)}"{_styled(style)}/>'


def box(corner: tuple[float, float], width: float, height: float, style: str) -> str:
    """A rectangle from its upper left corner."""
    x, y = corner
    size = f'width="{max(0.0, width):.1f}" height="{max(0.0, height):.1f}"'
    return f'<rect x="{x:.1f}" y="{y:.1f}" {size}{_styled(style)}/>'


def circle(x: float, y: float, radius: float, style: str) -> str:
    """A circle."""
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:g}"{_styled(style)}/>'


def diamond(x: float, y: float, radius: float, style: str) -> str:
    """A square on its tip."""
    corners = ((x, y - radius), (x + radius, y), (x, y + radius), (x - radius, y))
    return f'<polygon points="{" ".join(f"{a:.1f},{b:.1f}" for a, b in corners)}"{_styled(style)}/>'


def picture(size: tuple[float, float], name: str, description: str, marks: Iterable[str]) -> str:
    """An inline drawing with an accessible name, and what it shows in words."""
    width, height = size
    head = f'<svg viewBox="0 0 {width:g} {height:g}" role="img" aria-label={quoteattr(name)}>'
    return "".join((head, f"<desc>{escape(visible(description))}</desc>", *marks, "</svg>"))


def _styled(style: str) -> str:
    return f' class="{style}"' if style else ""
