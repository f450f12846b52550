"""The shipped checks and airplanes, and edits of them."""

from pathlib import Path
from typing import Final

from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check
from runner.checklist.format.check_load import load_check, parse_check

FOLDER: Final = Path(__file__).resolve().parents[2] / "checklists"
CHECKS: Final = tuple(sorted(FOLDER.glob("*.yaml")))
RESERVE_CHECKS: Final = tuple(path for path in CHECKS if path.stem.endswith("-reserve"))
"""Those of one airplane's reserve bus; the others are for any airplane."""


def shipped_check(stem: str) -> Check:
    """A shipped check by its name."""
    return load_check(FOLDER / f"{stem}.yaml")


def shipped_airplane(stem: str) -> Airplane:
    """A shipped airplane by its name."""
    return load_airplane(FOLDER / "airplanes" / f"{stem}.yaml")


def edited_check(stem: str, *edits: tuple[str, str]) -> Check:
    """A shipped check after edits of its text, each at a place that occurs once."""
    text = (FOLDER / f"{stem}.yaml").read_text(encoding="utf-8")
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return parse_check(text, Path(f"{stem}.yaml"))
