"""Fourteen pictures of the screen, kept under pictures/; look at them before you accept a change.

EYESOUT_DRAW=1 draws them anew.
"""

import os
from pathlib import Path

import pytest

from runner.screen.app import EyesoutApp
from tests.screen.picture import strokes_of, svg_of
from tests.screen.sample import VIEWS

PICTURES = Path(__file__).parent / "pictures"
NAMES = ("briefing", "asking", "reading", "confirming", "waiting", "restoring", "stopped")


@pytest.mark.parametrize("size", [(80, 24), (120, 34)], ids=["80x24", "120x34"])
@pytest.mark.parametrize("name", NAMES)
async def test_the_screen_looks_as_it_did(name: str, size: tuple[int, int]) -> None:
    """Every ground, every letter and every colour of the picture that was looked at and kept."""
    kept = PICTURES / f"{name}-{size[0]}x{size[1]}.svg"
    app = EyesoutApp(VIEWS[name], lambda _: None)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        drawn = svg_of(app)
    if os.environ.get("EYESOUT_DRAW"):
        kept.parent.mkdir(exist_ok=True)
        kept.write_text(drawn, encoding="utf-8")
    assert strokes_of(drawn) == strokes_of(kept.read_text(encoding="utf-8"))


def test_the_picture_for_readers_is_one_that_the_screen_draws() -> None:
    """demo/screen.svg stands in the README; it is the reading with its two clocks, at 120 x 34."""
    shown = Path(__file__).parents[2] / "demo" / "screen.svg"
    kept = PICTURES / "reading-120x34.svg"
    if os.environ.get("EYESOUT_DRAW"):
        shown.write_bytes(kept.read_bytes())
    assert strokes_of(shown.read_text(encoding="utf-8")) == strokes_of(kept.read_text(encoding="utf-8"))
