"""The film of a drill: its airplane played again, second by second, beside itself without each of its faults.

What differs between the two panels is where a fault could have been seen, and when.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from runner.drill.drill_event import (
    DrillEvent,
    DrillFrozen,
    DrillThawed,
    FaultMended,
    FaultTripped,
    HandMoved,
    tripped_fault,
)
from runner.drill.played.drill_panel import DrillPanel
from runner.drill.played.hidden import Hidden
from runner.drill.played.played_airplane import PlayedAirplane
from runner.drill.played.setting import Setting

FRAME_SECONDS = 1.0


@dataclass(frozen=True, slots=True)
class Frame:
    """One moment."""

    at: float
    """Seconds since the epoch."""
    panel: DrillPanel
    without: Mapping[Hidden, DrillPanel]
    """The panel as it would be without each of the faults."""
    well: DrillPanel
    """The panel as it would be without any."""

    def tells(self, fault: Hidden) -> frozenset[str]:
        """Where the fault can be seen now."""
        other = self.without.get(fault)
        return frozenset() if other is None else self.panel.differences(other)


@dataclass(frozen=True, slots=True)
class Film:
    """Every second of a drill, and every moment after a hand moved."""

    setting: Setting
    frames: tuple[Frame, ...]
    faults: tuple[Hidden, ...]
    """All that were in the airplane at some time."""
    ampere_hours: float
    """Drawn from the first battery in the whole drill."""

    def at(self, at: float) -> Frame:
        """The last frame up to this time, or the first."""
        number = bisect_right(self.frames, at, key=lambda frame: frame.at)
        return self.frames[max(0, number - 1)]

    def between(self, begin: float, end: float) -> tuple[Frame, ...]:
        """The frame at the begin and all up to the end, both in seconds since the epoch."""
        first = bisect_right(self.frames, begin, key=lambda frame: frame.at) - 1
        last = bisect_right(self.frames, end, key=lambda frame: frame.at)
        return self.frames[max(0, first) : max(last, first + 1, 1)]


def shoot(setting: Setting, begun_at: float, events: Sequence[DrillEvent], ended_at: float) -> Film:
    """Play the drill from its events; UsageError where one of them moves what there is not."""
    faults = tuple(dict.fromkeys((*setting.hidden, *_tripped(events))))
    troupe = {fault: PlayedAirplane(setting.without(fault)) for fault in faults}
    played, well = PlayedAirplane(setting), PlayedAirplane(replace(setting, hidden=()))
    everyone = (played, well, *troupe.values())
    frames: list[Frame] = []
    drawn, now, is_frozen = 0.0, begun_at, False

    def show() -> None:
        panels = {fault: each.panel() for fault, each in troupe.items()}
        frames.append(Frame(now, played.panel(), panels, well.panel()))

    show()
    for event in (*sorted(events, key=lambda event: event.at), None):
        until = ended_at if event is None else max(now, event.at)
        while not is_frozen and now < until:
            step = min(FRAME_SECONDS, until - now)
            drawn += max(0.0, played.flow.source_amps[setting.airplane.battery.name]) * step / 3600
            for each in everyone:
                each.play(step)
            now += step
            show()
        now = max(now, until)
        if event is not None:
            is_frozen = _happen(event, _Cast(played, well, troupe), is_frozen=is_frozen)
            show()
    return Film(setting, tuple(frames), faults, drawn)


def _tripped(events: Iterable[DrillEvent]) -> Iterable[Hidden]:
    return (tripped_fault(event) for event in events if isinstance(event, FaultTripped))


@dataclass(frozen=True, slots=True)
class _Cast:
    played: PlayedAirplane
    well: PlayedAirplane
    without: Mapping[Hidden, PlayedAirplane]


def _happen(event: DrillEvent, cast: _Cast, *, is_frozen: bool) -> bool:
    """Let an event happen to all airplanes; True while time stands still after it."""
    match event:
        case HandMoved(_, switch, position):
            for each in (cast.played, cast.well, *cast.without.values()):
                each.move(switch, position)
        case FaultTripped() | FaultMended():
            changed, is_in = tripped_fault(event), isinstance(event, FaultTripped)
            cast.played.change(changed, is_in=is_in)
            for fault, each in cast.without.items():
                each.change(changed, is_in=is_in and fault != changed)
        case DrillFrozen():
            return True
        case DrillThawed():
            return False
        case _:
            pass
    return is_frozen
