"""The colours, after 14 CFR 25.1322: red warning, amber caution, green or white normal; words beside.

Any colour but red, amber and green marks an advisory. Pairs keep a WCAG 2.2 contrast of 7:1 and more.
"""

from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from runner.checklist.model import Outcome
from runner.core.state import State
from runner.screen.view import ClockState, View


class Tone(StrEnum):
    """How much something wants the pilot; the value is its style class."""

    PLAIN = "plain"
    NORMAL = "normal"
    ADVISORY = "advisory"
    CAUTION = "caution"
    WARNING = "warning"


@dataclass(frozen=True, slots=True)
class Pair:
    """Letters on a ground, both as #rrggbb."""

    ink: str
    ground: str


DAY: Final = MappingProxyType(
    {
        Tone.PLAIN: Pair("#000000", "#ffffff"),
        Tone.NORMAL: Pair("#ffffff", "#00561f"),
        Tone.ADVISORY: Pair("#ffffff", "#0b3d91"),
        Tone.CAUTION: Pair("#000000", "#ffb000"),
        Tone.WARNING: Pair("#ffffff", "#a30000"),
    }
)
"""Black on white, for sunlight (NASA CR-177605 on print; dark grounds only for dark adaptation)."""

NIGHT: Final = MappingProxyType(
    {
        Tone.PLAIN: Pair("#f2f2f2", "#000000"),
        Tone.NORMAL: Pair("#000000", "#35d07f"),
        Tone.ADVISORY: Pair("#000000", "#7cc7ff"),
        Tone.CAUTION: Pair("#000000", "#ffb000"),
        Tone.WARNING: Pair("#ffffff", "#a30000"),
    }
)
"""For a dark cockpit."""

_KNEE: Final = 0.04045
"""Below this an sRGB channel is linear."""

_STATES: Final = MappingProxyType(
    {
        State.READY: Tone.ADVISORY,
        State.BRIEFING: Tone.ADVISORY,
        State.ASKING: Tone.NORMAL,
        State.CONFIRMING: Tone.CAUTION,
        State.STOPPED: Tone.WARNING,
        State.WAITING: Tone.NORMAL,
        State.HOLDING: Tone.ADVISORY,
        State.NOTING: Tone.ADVISORY,
        State.RESTORING: Tone.WARNING,
        State.COMPLETE: Tone.NORMAL,
        State.ABANDONED: Tone.CAUTION,
    }
)
_CLOCKS: Final = MappingProxyType(
    {
        ClockState.RUNNING: Tone.PLAIN,
        ClockState.ADVISE: Tone.ADVISORY,
        ClockState.LIMIT: Tone.CAUTION,
    }
)


def view_tone(view: View) -> Tone:
    """The tone of the whole view: that of its state, or caution for a run that ended with findings.

    A stop needs an act at once, and so does an airplane left with something moved: only these are warnings.
    """
    if view.stop:
        return Tone.WARNING
    if view.state is State.COMPLETE and view.stops + view.squawks + view.cautions:
        return Tone.CAUTION
    return _STATES[view.state]


def clock_tone(state: ClockState) -> Tone:
    """Past advise may need an act later (advisory), past the limit it does (caution)."""
    return _CLOCKS[state]


def outcome_tone(outcome: Outcome | None) -> Tone:
    """A squawk is for maintenance, not for this instant: a caution. A stop is for this instant."""
    if outcome is Outcome.STOP:
        return Tone.WARNING
    return Tone.PLAIN if outcome in (None, Outcome.PASS) else Tone.CAUTION


def contrast(pair: Pair) -> float:
    """Contrast ratio, 1 to 21 (W3C WCAG 2.2, "contrast ratio" and "relative luminance")."""
    high, low = sorted((_luminance(pair.ink), _luminance(pair.ground)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    """Relative luminance of #rrggbb, 0 to 1."""
    red, green, blue = (_linear(int(colour[start : start + 2], 16) / 255) for start in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    """An sRGB channel (0 to 1) as linear light."""
    return channel / 12.92 if channel <= _KNEE else ((channel + 0.055) / 1.055) ** 2.4
