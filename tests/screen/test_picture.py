"""Fourteen pictures of the screen, kept under pictures/; look at them before you accept a change.

EYESOUT_DRAW=1 draws them anew.
"""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from runner.screen.full.screen_app import EyesoutApp
from tests.screen.picture import strokes_of, svg_of
from tests.screen.sample import VIEWS

ROOT = Path(__file__).resolve().parents[2]
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


def test_the_picture_for_readers_is_the_shipped_demo_as_it_is_drawn_now() -> None:
    """demo/screen.svg stands in the README; `.ci/drawn_screen.py` draws it anew."""
    script = [sys.executable, str(ROOT / ".ci" / "drawn_screen.py"), "--check"]
    done = subprocess.run(
        script, capture_output=True, text=True, check=False, env={**os.environ, "PYTHONPATH": str(ROOT)}
    )
    assert done.stdout.strip() == "up to date", done.stderr


def test_the_picture_for_readers_fetches_nothing() -> None:
    """No address but the name of SVG itself, no font that a reader would have to get."""
    picture = (ROOT / "demo" / "screen.svg").read_text(encoding="utf-8")
    assert re.findall(r"[a-z]+://[^\"]+", picture) == ["http://www.w3.org/2000/svg"]
    assert not re.search(r"@font-face|@import|href|<image|<script", picture)
    assert "QQ-ML2" in picture
