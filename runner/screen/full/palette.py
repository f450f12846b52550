"""The colours, after 14 CFR 25.1322: red warning, amber caution, green or white normal; words beside.

Any colour but red, amber and green marks an advisory. Pairs keep a WCAG 2.2 contrast of 7:1 and more.
As Textual themes each tone gives the stylesheet an ink and a ground.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from textual.theme import Theme

from runner.core.state import State
from runner.language.catalogue import Outcome
from runner.screen.view import ClockState, View


class Tone(StrEnum):
    """How much something wants the pilot; the value is its style class."""

    PLAIN = "plain"
    NORMAL = "normal"
    ADVISORY = "advisory"
    CAUTION = "caution"
    WARNING = "warning"
    DRILL = "drill"
    """Of no real airplane; a colour that means nothing else."""


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
        Tone.DRILL: Pair("#ffffff", "#5a1f8a"),
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
        Tone.DRILL: Pair("#000000", "#c99bff"),
    }
)
"""For a dark cockpit."""

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
    if view.is_drill:
        return Tone.DRILL
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


def variables(palette: Mapping[Tone, Pair]) -> dict[str, str]:
    """The stylesheet's variables: `eo-caution-ink`, `eo-caution-ground` and so on."""
    inks = {f"eo-{tone}-ink": pair.ink for tone, pair in palette.items()}
    grounds = {f"eo-{tone}-ground": pair.ground for tone, pair in palette.items()}
    return inks | grounds


def _theme(name: str, palette: Mapping[Tone, Pair], *, is_dark: bool) -> Theme:
    """A Textual theme made of one palette."""
    plain = palette[Tone.PLAIN]
    return Theme(
        name=name,
        primary=palette[Tone.ADVISORY].ground,
        foreground=plain.ink,
        background=plain.ground,
        surface=plain.ground,
        panel=plain.ground,
        text_alpha=1.0,
        dark=is_dark,
        variables=variables(palette),
    )


DAY_THEME: Final = _theme("eyesout-day", DAY, is_dark=False)
NIGHT_THEME: Final = _theme("eyesout-night", NIGHT, is_dark=True)
