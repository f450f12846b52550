"""A scripted pilot as a file: what is said, at which point of the check, and after how long."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from runner.document import Node, read_document

REACTION_SECONDS: Final = 1.2
"""From the end of a challenge to the answer, where a line does not say `after`: time for a look."""

POINTS: Final = ("cautions", "confirm", "hold", "note", "waiting")
"""Points of a run that are no items: the briefing, a question, a hold, a note, open clocks only."""


@dataclass(frozen=True, slots=True)
class ScriptLine:
    """One thing that the pilot says."""

    on: str
    """The item's name, or one of POINTS; for a clock, the spin-up item."""
    say: str
    """What a synthetic voice speaks; empty when `wav` is given."""
    wav: Path | None
    after_seconds: float
    """After the end of the challenge, or after the clock's start."""
    is_clock: bool


@dataclass(frozen=True, slots=True)
class ScriptNoise:
    """What else the microphone hears."""

    kind: str
    snr_db: float


@dataclass(frozen=True, slots=True)
class PilotScript:
    """All lines of one pilot, in the order they are used at their point."""

    check: str
    voice: str
    noise: ScriptNoise | None
    seed: int
    start_at: float
    """Seconds since the epoch at which the simulated run begins."""
    lines: tuple[ScriptLine, ...]


def load_script(path: Path, *, noises: tuple[str, ...]) -> PilotScript:
    """Read a pilot file; FileError tells line and column. `noises` are the kinds that can be mixed in."""
    root = read_document(path).mapping(
        required=("check", "lines"), optional=("voice", "noise", "seed", "start", "about")
    )
    return PilotScript(
        check=root["check"].text(),
        voice=root["voice"].text() if "voice" in root else "en-us",
        noise=_noise(root["noise"], noises) if "noise" in root else None,
        seed=int(root["seed"].number(at_least="0")) if "seed" in root else 0,
        start_at=_time(root["start"]) if "start" in root else 0.0,
        lines=tuple(_line(node, path.parent) for node in root["lines"].items()),
    )


def _time(node: Node) -> float:
    """Seconds since the epoch of an ISO 8601 time with its zone."""
    words = node.text()
    try:
        time = datetime.fromisoformat(words)
    except ValueError:
        node.fail(f'"{words}" is not a time; write it like 2026-12-03T06:40:00Z')
    if time.tzinfo is None:
        node.fail(f'"{words}" has no time zone; end it with Z for UTC')
    return time.timestamp()


def _noise(node: Node, kinds: tuple[str, ...]) -> ScriptNoise:
    entries = node.mapping(required=("kind", "snr"))
    return ScriptNoise(entries["kind"].one_of(kinds), float(entries["snr"].number()))


def _line(node: Node, folder: Path) -> ScriptLine:
    entries = node.mapping(optional=("on", "clock", "say", "wav", "after"))
    if ("on" in entries) == ("clock" in entries):
        node.fail(f'a line needs either "on" (an item, or {", ".join(POINTS)}) or "clock" (a spin-up item)')
    if ("say" in entries) == ("wav" in entries):
        node.fail('a line needs either "say" (words) or "wav" (a recording)')
    is_clock = "clock" in entries
    if is_clock and "after" not in entries:
        node.fail('a clock\'s line needs "after": seconds from power-on to the words')
    return ScriptLine(
        on=entries["clock" if is_clock else "on"].text(),
        say=entries["say"].text() if "say" in entries else "",
        wav=_recording(entries, folder),
        after_seconds=float(entries["after"].number(at_least="0"))
        if "after" in entries
        else REACTION_SECONDS,
        is_clock=is_clock,
    )


def _recording(entries: Mapping[str, Node], folder: Path) -> Path | None:
    if "wav" not in entries:
        return None
    path = folder / entries["wav"].text()
    if not path.is_file():
        entries["wav"].fail(f"there is no recording {path}; check the name")
    return path
