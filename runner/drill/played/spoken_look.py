"""Looks on request: a name is said, and what is seen there is told; only that, and never why."""

from __future__ import annotations

from collections.abc import Iterator

from runner.drill.played.drill_panel import DrillPanel


def look_names(panel: DrillPanel) -> Iterator[str]:
    """Everything that can be asked for: sights, then the selector and the switches."""
    yield from panel.sights
    yield from (name for name in panel.stands if name not in panel.sights)


def told_look(panel: DrillPanel, name: str) -> str:
    """One sentence on what is seen; KeyError for what there is not."""
    sight = panel.sights.get(name)
    words = panel.stands[name] if sight is None else sight.words
    return f"{name[:1].upper()}{name[1:]}: {words}."
