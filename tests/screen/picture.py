"""What a Textual app has drawn, as text and as an SVG that does not depend on the moment."""

import re
from xml.etree import ElementTree as ET

from runner.screen.full.screen_app import EyesoutApp

SVG = "{http://www.w3.org/2000/svg}"


def text_of(app: EyesoutApp) -> str:
    """The screen's characters, line by line."""
    width = app.size.width
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.ljust(width) for strip in strips)


def svg_of(app: EyesoutApp) -> str:
    """The screen as SVG, with the names that change from run to run made fixed."""
    return re.sub(r"terminal-\d+", "terminal", app.export_screenshot(title="eyesout"))


def strokes_of(svg: str) -> list[tuple[str, ...]]:
    """What is drawn: grounds with place and colour, letters with place, colour and text; fonts left out."""
    root = ET.fromstring(svg)  # noqa: S314 - drawn by ourselves a moment ago, or kept beside this file
    inks = dict(re.findall(r"\.terminal-(r\d+) \{ (fill: #[0-9a-f]+)", svg))
    strokes: list[tuple[str, ...]] = []
    for element in root.iter():
        place = (element.get("x", ""), element.get("y", ""))
        if element.tag == f"{SVG}rect":
            strokes.append((*place, element.get("width", ""), element.get("fill", "")))
        if element.tag == f"{SVG}text":
            name = element.get("class", "").removeprefix("terminal-")
            strokes.append((*place, inks.get(name, ""), element.text or ""))
    return strokes
