"""A scripted pilot as a file: what is said, at which point of the check, and after how long."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Final

from runner.checklist.format.check import Check
from runner.document import Node, nearest, read_document, together
from runner.errors import FileError, Place

REACTION_SECONDS: Final = 1.2
"""From the end of a challenge to the answer, where a line does not say `after`: time for a look."""

POINTS: Final = ("cautions", "confirm", "hold", "note", "waiting")
"""Points of a run that are no items: the briefing, a question, a hold, a note, open clocks only."""

SCRIPT_REQUIRED: Final = ("check", "lines")
SCRIPT_OPTIONAL: Final = ("voice", "noise", "seed", "start", "about")
NOISE_KEYS: Final = ("kind", "snr")
LINE_KEYS: Final = ("on", "clock", "say", "key", "wav", "after")


@dataclass(frozen=True, slots=True)
class ScriptLine:
    """One thing that the pilot says."""

    on: str
    """The item's name, or one of POINTS; for a clock, the spin-up item."""
    say: str
    """What a synthetic voice speaks; empty when `wav` or `key` is given."""
    wav: Path | None
    after_seconds: float
    """After the end of the challenge, or after the clock's start."""
    is_clock: bool
    key: str = ""
    """The words of the answer that is given by its key, without a sound; empty when it is spoken."""
    place: Place = field(default=Place(Path(), 1, 1), compare=False)
    """Where the item or point is named."""


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
    root = read_document(path).mapping(SCRIPT_REQUIRED, SCRIPT_OPTIONAL)
    return PilotScript(
        check=root["check"].text(),
        voice=root["voice"].text() if "voice" in root else "en-us",
        noise=_noise(root["noise"], noises) if "noise" in root else None,
        seed=int(root["seed"].number(at_least="0")) if "seed" in root else 0,
        start_at=_time(root["start"]) if "start" in root else 0.0,
        lines=tuple(_line(node, path.parent) for node in root["lines"].items()),
    )


def refuse_unknown(script: PilotScript, check: Check) -> None:
    """FileError for all lines at an item or a clock that the check does not have, each at its place."""
    clocks = [item.name for item, _ in check.clocks()]
    points = [*(item.name for item in check.items if item.name not in clocks), *POINTS]
    wrong = [
        _unknown(line, clocks if line.is_clock else points, check)
        for line in script.lines
        if line.on not in (clocks if line.is_clock else points)
    ]
    if wrong:
        raise together(wrong)


def _unknown(line: ScriptLine, known: list[str], check: Check) -> FileError:
    noun = "spin-up item" if line.is_clock else "item"
    return FileError(
        line.place, f'the check {check.name} has no {noun} "{line.on}"; {nearest(line.on, known, "known")}'
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
    entries = node.mapping(required=NOISE_KEYS)
    return ScriptNoise(entries["kind"].one_of(kinds), float(entries["snr"].number()))


def _line(node: Node, folder: Path) -> ScriptLine:
    entries = node.mapping(optional=LINE_KEYS)
    if ("on" in entries) == ("clock" in entries):
        node.fail(f'a line needs either "on" (an item, or {", ".join(POINTS)}) or "clock" (a spin-up item)')
    if sum(name in entries for name in ("say", "key", "wav")) != 1:
        node.fail('a line needs either "say" (words), "key" (words, by key) or "wav" (a recording)')
    is_clock = "clock" in entries
    if is_clock and "after" not in entries:
        node.fail('a clock\'s line needs "after": seconds from power-on to the words')
    where = entries["clock" if is_clock else "on"]
    return ScriptLine(
        on=where.text(),
        say=entries["say"].text() if "say" in entries else "",
        wav=_recording(entries, folder),
        after_seconds=float(entries["after"].number(at_least="0"))
        if "after" in entries
        else REACTION_SECONDS,
        is_clock=is_clock,
        key=entries["key"].text() if "key" in entries else "",
        place=where.place,
    )


def _recording(entries: Mapping[str, Node], folder: Path) -> Path | None:
    if "wav" not in entries:
        return None
    path = folder / entries["wav"].text()
    if not path.is_file():
        entries["wav"].fail(f"there is no recording {path}; check the name")
    return path
