"""Draws demo/screen.svg, the README's picture: the shipped demo at its first reading under load.

Letters are text in whatever monospaced font the reader has, held to their cells; blocks and grounds are
shapes. Nothing is fetched. `--check` only compares.
"""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final
from xml.sax.saxutils import escape

from rich.color import ColorTriplet
from rich.segment import Segment
from rich.style import Style

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from runner.checklist.format.check import Item  # noqa: E402 - the path comes first
from runner.core.event import Answered, Channel, PlaybackEnded, Started  # noqa: E402
from runner.core.grid.machine import Machine  # noqa: E402
from runner.language.catalogue import Outcome, Word  # noqa: E402
from runner.language.meaning import Command, Meaning, Picked, Value  # noqa: E402
from runner.screen.build import build_view  # noqa: E402
from runner.screen.full.screen_app import EyesoutApp  # noqa: E402
from runner.screen.view import NoiseView, SoundView, View  # noqa: E402
from runner.session.parts import load_parts  # noqa: E402

PICTURE: Final = ROOT / "demo" / "screen.svg"
CHECK: Final = "merlow-reserve"
ITEM: Final = "volts on reserve"
BEGAN: Final = 1796280000.0
SECONDS_AN_ITEM: Final = 3.0
RUNNING_SECONDS: Final = 6.0
"""Since the last answer; the clocks of both gyros stand before their advise times."""
CELLS: Final = (100, 30)
WIDE, HIGH, MARGIN = 10, 20, 24
FONTS: Final = "ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace"
FRAME, EDGE = "#20242c", "#4a5160"
SHAPES: Final = {
    "█": (0, 0, 1, 1),
    "▀": (0, 0, 1, 0.5),
    "▄": (0, 0.5, 1, 0.5),
    "▌": (0, 0, 0.5, 1),
    "▐": (0.5, 0, 0.5, 1),
    "■": (0.05, 0.28, 0.9, 0.44),
    "─": (0, 0.47, 1, 0.06),
    "━": (0, 0.38, 1, 0.24),
    "│": (0.4, 0.1, 0.2, 0.8),
}
"""Characters that are drawn: left, top, width and height in parts of a cell."""


def demo_view() -> View:
    """The demo's check, passed up to the reading, with both clocks running."""
    parts = load_parts(CHECK)
    machine, now = Machine(parts.plan), BEGAN
    machine.handle(Started(now))
    answers = [Command(Word.CONTINUE)]
    for item in parts.check.items:
        if item.name == ITEM:
            break
        answers.append(_passing(item))
    for meaning in answers:
        machine.handle(PlaybackEnded(now + 2.0, machine.turn))
        now += SECONDS_AN_ITEM
        machine.handle(Answered(now, machine.turn, meaning, _words(meaning), 0.97, now - 1.0, Channel.VOICE))
    sound = SoundView(engine="builtin", channel=Channel.VOICE, dbfs=-41.0, noise=NoiseView.QUIET)
    return build_view(
        machine,
        now + RUNNING_SECONDS,
        airplane=parts.airplane_title,
        registration=parts.registration,
        sound=sound,
    )


def _passing(item: Item) -> Meaning:
    number = item.body.number
    if number is not None:
        band = number.pass_band
        return Value(item.name, ((band.low + band.high) / 2).quantize(number.resolution))
    passing = next(one for one in item.responses if one.outcome is Outcome.PASS)
    return Picked(item.name, passing.label)


def _words(meaning: Meaning) -> str:
    return meaning.label if isinstance(meaning, Picked) else "continue"


async def drawn() -> str:
    """The picture as SVG."""
    app = EyesoutApp(demo_view(), lambda _: None)
    async with app.run_test(size=CELLS) as pilot:
        await pilot.pause()
        strips = app.screen._compositor.render_strips()  # noqa: SLF001 - Textual's own picture names a font on the network
        rows = [list(strip) for strip in strips]
    return _page("\n".join(line for y, row in enumerate(rows) for line in _row(row, y)))


def _page(inside: str) -> str:
    width, height = CELLS[0] * WIDE + 2 * MARGIN, CELLS[1] * HIGH + 2 * MARGIN
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img" '
        f'font-family="{FONTS}" font-size="16.4">\n'
        "<title>eyesout: a reading is asked for while two gyro clocks run</title>\n"
        f'<rect width="{width}" height="{height}" rx="18" fill="{FRAME}"/>\n'
        f'<rect x="10" y="10" width="{width - 20}" height="{height - 20}" rx="10" fill="none" '
        f'stroke="{EDGE}" stroke-width="2"/>\n'
        f'<g transform="translate({MARGIN} {MARGIN})" shape-rendering="crispEdges" xml:space="preserve">\n'
        f"{inside}\n</g>\n</svg>\n"
    )


def _row(row: list[Segment], y: int) -> Iterator[str]:
    x = 0
    for segment in row:
        style = segment.style or Style()
        ink, ground = _colours(style)
        yield _rectangle(x, y, segment.cell_length, 1, ground)
        yield from _letters(segment.text, x, y, ink, style)
        x += segment.cell_length


def _letters(text: str, x: int, y: int, ink: str, style: Style) -> Iterator[str]:
    """Words at their cells; characters with a shape as that shape, neighbours of one kind joined."""
    start = 0
    while start < len(text):
        kind, end = text[start], start + 1
        if kind in SHAPES:
            while end < len(text) and text[end] == kind and kind != "■":
                end += 1
            left, top, width, height = SHAPES[kind]
            yield _rectangle(x + start + left, y + top, width + end - start - 1, height, ink)
        else:
            while end < len(text) and text[end] not in SHAPES:
                end += 1
            yield from _word(text[start:end], x + start, y, ink, style)
        start = end


def _word(text: str, x: int, y: int, ink: str, style: Style) -> Iterator[str]:
    bare = text.strip()
    if not bare:
        return
    left = (x + len(text) - len(text.lstrip())) * WIDE
    weight = ' font-weight="bold"' if style.bold else ""
    yield (
        f'<text x="{left}" y="{y * HIGH + 15}" fill="{ink}"{weight} textLength="{len(bare) * WIDE}" '
        f'lengthAdjust="spacingAndGlyphs">{escape(bare)}</text>'
    )


def _rectangle(x: float, y: float, width: float, height: float, fill: str) -> str:
    place = f'x="{x * WIDE:g}" y="{y * HIGH:g}" width="{width * WIDE:g}" height="{height * HIGH:g}"'
    return f'<rect {place} fill="{fill}"/>'


def _colours(style: Style) -> tuple[str, str]:
    """Letters and ground; dim letters halfway to the ground."""
    ink = style.color.get_truecolor() if style.color else ColorTriplet(255, 255, 255)
    ground = style.bgcolor.get_truecolor() if style.bgcolor else ColorTriplet(0, 0, 0)
    if style.reverse:
        ink, ground = ground, ink
    if style.dim:
        ink = ColorTriplet(*((one + other) // 2 for one, other in zip(ink, ground, strict=True)))
    return ink.hex, ground.hex


def main() -> int:
    """Draw it, or with `--check` say whether it is as drawn."""
    fresh = asyncio.run(drawn())
    if "--check" in sys.argv:
        is_fresh = PICTURE.read_text(encoding="utf-8") == fresh
        print("up to date" if is_fresh else "stale; run .ci/drawn_screen.py")
        return 0 if is_fresh else 1
    PICTURE.write_text(fresh, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
