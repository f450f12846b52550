"""Where boxes and wires go on a page: the one place that imports graphlay, a layered layout library."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from runner.errors import UsageError

OPTIONS: Final[Mapping[str, Any]] = {
    "direction": "topbottom",
    "spacing": {"layer_gap": 26.0, "node_gap": 22.0, "stub": 8.0},
    "routing": {"style": "orthogonal"},
}

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """Something to place, in pixels."""

    name: str
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Wire:
    """Something to route between two boxes; the page runs downward from `start` to `end`."""

    start: str
    end: str


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Boxes and wires with their places; y grows downward, and everything lies within the size."""

    corners: Mapping[str, Point]
    """Top left corner of each box."""
    routes: tuple[tuple[Point, ...], ...]
    """The corner points of each wire, in the order given."""
    width: float
    height: float


def arrange(boxes: Sequence[Box], wires: Sequence[Wire]) -> Arrangement:
    """Place boxes in layers with few crossings, and route wires at right angles.

    UsageError when the library is not installed.
    """
    try:
        import graphlay  # noqa: PLC0415 - only who draws needs it
    except ImportError:
        raise UsageError('a diagram needs graphlay; install it with: pip install "eyesout[plots]"') from None
    graph = graphlay.Graph()
    for box in boxes:
        graph.node(box.name, width=box.width, height=box.height)
    for wire in wires:
        graph.edge(wire.start, wire.end)
    placed = graphlay.layout(graph, options=OPTIONS)
    low, high = placed.bounds["min"], placed.bounds["max"]
    corners = {
        box.name: (
            node["center"]["x"] - box.width / 2 - low["x"],
            node["center"]["y"] - box.height / 2 - low["y"],
        )
        for box, node in zip(boxes, placed.nodes, strict=True)
    }
    routes = tuple(
        tuple((point["x"] - low["x"], point["y"] - low["y"]) for point in edge["points"])
        for edge in placed.edges
    )
    return Arrangement(corners, routes, high["x"] - low["x"], high["y"] - low["y"])
