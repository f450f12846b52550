"""Where boxes and wires go."""

import sys
from itertools import combinations, pairwise

import pytest

from runner.errors import UsageError
from runner.report.bus.graph_layout import Box, Wire, arrange

BOXES = [Box("source", 90, 40), Box("first", 200, 60), Box("second", 50, 120), Box("end", 80, 20)]
WIRES = [Wire("source", "first"), Wire("source", "second"), Wire("first", "end"), Wire("second", "end")]


def test_no_two_boxes_overlap_and_all_lie_on_the_page() -> None:
    """Every box keeps its size within the arrangement's."""
    placed = arrange(BOXES, WIRES)
    for one, other in combinations(BOXES, 2):
        (x1, y1), (x2, y2) = placed.corners[one.name], placed.corners[other.name]
        is_apart = x1 + one.width <= x2 or x2 + other.width <= x1
        assert is_apart or y1 + one.height <= y2 or y2 + other.height <= y1
    for box in BOXES:
        x, y = placed.corners[box.name]
        assert x >= 0
        assert y >= 0
        assert x + box.width <= placed.width + 1e-6
        assert y + box.height <= placed.height + 1e-6


def test_wires_run_downward_at_right_angles_from_box_to_box() -> None:
    """Each starts on its first box's edge, ends on its second's, and turns square."""
    placed = arrange(BOXES, WIRES)
    sizes = {box.name: box for box in BOXES}
    for wire, route in zip(WIRES, placed.routes, strict=True):
        below = placed.corners[wire.start][1] + sizes[wire.start].height
        assert route[0][1] == pytest.approx(below)
        assert route[-1][1] == pytest.approx(placed.corners[wire.end][1])
        for (x1, y1), (x2, y2) in pairwise(route):
            assert x1 == pytest.approx(x2) or y1 == pytest.approx(y2)


def test_the_same_graph_gets_the_same_page() -> None:
    """A diagram in a document does not move for no reason."""
    assert arrange(BOXES, WIRES) == arrange(BOXES, WIRES)


def test_without_the_library_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    """One line, and the command that mends it."""
    monkeypatch.setitem(sys.modules, "graphlay", None)
    with pytest.raises(UsageError, match="pip install"):
        arrange(BOXES, WIRES)
