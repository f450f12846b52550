"""The bus diagram to pin on a wall: sources, links, buses with their loads, and what each seat keeps below.

Live things have thick lines and full dots, dead ones thin dashed lines, hollow dots and the word.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from runner.airplane.life.life_network import conducts
from runner.airplane.life.lively import Picture
from runner.airplane.model.wiring import Link
from runner.report.bus.bus_report import BusReport
from runner.report.bus.diagram_seats import SeatBlock
from runner.report.bus.graph_layout import Arrangement, Box, Wire, arrange
from runner.report.draw import svg

MARGIN: Final = 28.0
PAD: Final = 9.0
HEAD: Final = 22.0
LOADS_IN_COLUMN: Final = 8
LETTERS_IN_LINE: Final = 118
LEAST_AMPS: Final = 0.05
"""Less is written as no current."""


@dataclass(frozen=True, slots=True)
class BusBoxLine:
    """One line inside a node."""

    words: str
    is_live: bool
    has_dot: bool = False


@dataclass(frozen=True, slots=True)
class BusBox:
    """A box of the diagram with what is written in it."""

    name: str
    title: str
    is_live: bool
    rows: tuple[BusBoxLine, ...]
    round_: float = 0.0
    columns: int = 1

    @property
    def column_width(self) -> float:
        """Width of one column of rows."""
        dots = max((14.0 for row in self.rows if row.has_dot), default=0.0)
        return max((svg.text_width(row.words) for row in self.rows), default=0.0) + dots + PAD

    @property
    def box(self) -> Box:
        """The space that it needs."""
        width = max(self.column_width * self.columns, svg.text_width(self.title, is_bold=True) + PAD) + PAD
        lines = -(-len(self.rows) // self.columns)
        return Box(self.name, width, HEAD + lines * svg.LINE + (PAD / 2 if lines else 0))


@dataclass(slots=True)
class Drawing:
    """The nodes and wires of one situation."""

    nodes: list[BusBox] = field(default_factory=list)
    wires: list[tuple[Wire, bool, bool]] = field(default_factory=list)
    """Each wire with whether it is live, and whether it has an arrow."""

    def join(self, start: str, end: str, *, live: bool, arrow: bool = False) -> None:
        """Add a wire between two nodes."""
        self.wires.append((Wire(start, end), live, arrow))


def diagram_svg(report: BusReport) -> str:
    """The diagram as an SVG document."""
    drawing = _drawing(report.after)
    placed = arrange([node.box for node in drawing.nodes], [wire for wire, _, _ in drawing.wires])
    head, seats = _head(report), SeatBlock(report)
    top = MARGIN + 26 + len(head) * svg.LINE
    below = top + placed.height + 34
    width = max(placed.width, seats.width, *(svg.text_width(words) for words in head)) + 2 * MARGIN
    title = f"{report.airplane.title} ({report.airplane.registration})"
    marks = [
        svg.text(title, MARGIN, MARGIN + 8, size=17, bold=True),
        *(svg.text(words, MARGIN, MARGIN + 28 + line * svg.LINE) for line, words in enumerate(head)),
        *_placed(drawing, placed, ((width - placed.width) / 2, top)),
        *seats.marks(MARGIN, below),
    ]
    return svg.page(width, below + seats.height + MARGIN / 2, f"Buses of {report.airplane.title}", marks)


def _head(report: BusReport) -> list[str]:
    situation, airplane = report.after.situation, report.airplane
    lost = ", ".join(name for name in (*airplane.sources, *airplane.pumps) if name in situation.lost)
    pulled = ", ".join(sorted(situation.pulled))
    return [
        f'{airplane.selector.name} at "{situation.position}"; lost: {lost or "nothing"}'
        + (f"; breakers out: {pulled}" if pulled else ""),
        "full dot, thick line: alive; hollow dot, dashed line: DEAD; arrow: current passes this way only",
        airplane.note,
        *(line for limit in report.limits() for line in _wrapped(f"PASSED: {limit.message}")),
    ]


def _wrapped(words: str) -> list[str]:
    return textwrap.wrap(words, LETTERS_IN_LINE, subsequent_indent="    ")


def _drawing(picture: Picture) -> Drawing:
    drawing = Drawing()
    airplane, solution = picture.airplane, picture.solution
    for source in airplane.sources.values():
        is_lost = source.name in picture.situation.lost
        amps = solution.source_amps[source.name]
        state = "lost" if is_lost else _source_state(amps, solution.volts[source.bus])
        drawing.nodes.append(
            BusBox(source.name, source.name, not is_lost, (BusBoxLine(state, not is_lost),), 14)
        )
        drawing.join(source.name, source.bus, live=not is_lost)
    for bus in airplane.buses:
        drawing.nodes.append(_bus_node(picture, bus))
    for link in airplane.links.values():
        is_live = link.name in solution.link_amps
        drawing.nodes.append(_link_node(picture, link, is_live=is_live))
        drawing.join(link.start, link.name, live=is_live)
        drawing.join(link.name, link.end, live=is_live, arrow=link.is_one_way)
    return drawing


def _source_state(amps: float, volts: float) -> str:
    if amps > LEAST_AMPS:
        return f"gives {amps:.1f} A at {volts:.1f} V"
    return f"takes {-amps:.1f} A at {volts:.1f} V" if amps < -LEAST_AMPS else "stands by"


def _bus_node(picture: Picture, bus: str) -> BusBox:
    airplane, solution = picture.airplane, picture.solution
    rows = tuple(
        BusBoxLine(f"{load.name}, {load.amps:g} A", load.name in solution.alive, has_dot=True)
        for load in airplane.loads.values()
        if any(feed.bus == bus for feed in load.feeds)
    )
    is_live = bus in solution.carriers
    state = f"{solution.volts[bus]:.1f} V, {solution.bus_amps[bus]:.1f} A" if is_live else "DEAD"
    return BusBox(bus, f"{bus}: {state}", is_live, rows, columns=max(1, -(-len(rows) // LOADS_IN_COLUMN)))


def _link_node(picture: Picture, link: Link, *, is_live: bool) -> BusBox:
    amps = abs(picture.solution.link_amps.get(link.name, 0.0))
    state = (
        f"{amps:.1f} A"
        if is_live
        else ("closed, no current" if conducts(link, picture.situation) else "OPEN")
    )
    rating = f", breaker {picture.airplane.breakers[link.breaker]:g} A" if link.breaker else ""
    return BusBox(link.name, link.name, is_live, (BusBoxLine(state + rating, is_live),), 5)


def _placed(drawing: Drawing, placed: Arrangement, origin: tuple[float, float]) -> Iterator[str]:
    left, top = origin
    for (_, is_live, has_arrow), route in sorted(
        zip(drawing.wires, placed.routes, strict=True), key=lambda each: each[0][1]
    ):
        yield svg.line(((x + left, y + top) for x, y in route), live=is_live, arrow=has_arrow)
    for node in drawing.nodes:
        x, y = placed.corners[node.name]
        yield from _node(node, x + left, y + top)


def _node(node: BusBox, x: float, y: float) -> Iterator[str]:
    space = node.box
    ink = svg.INK if node.is_live else svg.FAINT
    yield svg.box(x, y, space.width, space.height, live=node.is_live, round_=node.round_)
    yield svg.text(node.title, x + PAD, y + 15, ink=ink, bold=True)
    lines = -(-len(node.rows) // node.columns)
    for number, row in enumerate(node.rows):
        column, line = divmod(number, max(1, lines))
        at_x = x + PAD + column * node.column_width
        at_y = y + HEAD + (line + 0.7) * svg.LINE
        if row.has_dot:
            yield svg.dot(at_x + 4, at_y - 4, live=row.is_live)
            at_x += 14
        yield svg.text(row.words, at_x, at_y, ink=svg.INK if row.is_live else svg.FAINT)
