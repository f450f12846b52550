"""The played airplane as a screen shows it: rows in the order of a panel, each with a shape and its words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from runner.airplane.life.lively import Life
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Seat
from runner.drill.drill_desk import DrillDesk
from runner.drill.played.drill_panel import BREAKERS, DrillPanel, PanelSight, SightKind
from runner.drill.played.played_airplane import switches_of

LIT: Final = "●"
DARK: Final = "○"
HALF: Final = "◐"
FLAG: Final = "▚"
"""A flag in view."""
HAND: Final = "▸"
"""Something to be moved."""
EYE: Final = "◇"
"""Something around the airplane, or inside a box: to be looked at."""
SELECTOR, LAMPS, AROUND, HANDS = "selector and volts", "lamps and radios", "around", "switches"
_SEATS: Final = {Seat.LEFT: "left seat", Seat.CENTRE: "between", Seat.RIGHT: "right seat"}


@dataclass(frozen=True, slots=True)
class DrillRow:
    """One thing to look at, or to move."""

    name: str
    group: str
    shape: str
    words: str
    positions: tuple[str, ...] = ()
    """Of a switch; empty for what is only looked at."""

    @property
    def is_hand(self) -> bool:
        """Whether it can be moved."""
        return bool(self.positions)


@dataclass(frozen=True, slots=True)
class DrillView:
    """What a drill shows beside the check."""

    level: int
    rows: tuple[DrillRow, ...]
    phrases: frozenset[str]
    """Everything that counts at the desk now."""
    told: str
    """What was last said to the student there."""
    caller: str
    """Who waits for an answer, and what was said; empty when nobody does."""
    reply: str
    """What answers that."""
    left_seconds: float | None
    """Until the departure."""


def drill_view(desk: DrillDesk, now: float, questions: Mapping[str, str]) -> DrillView:
    """The desk as it is now; `questions` are the challenges of what is so around the airplane, by item."""
    waiting = desk.interruption
    return DrillView(
        level=desk.story.level,
        rows=tuple(_rows(desk, questions)),
        phrases=frozenset(desk.acts),
        told=desk.told,
        caller="" if waiting is None else f"{waiting.who}: {waiting.says}",
        reply="" if waiting is None else waiting.wants[0],
        left_seconds=desk.left_seconds(now),
    )


def _rows(desk: DrillDesk, questions: Mapping[str, str]) -> Iterator[DrillRow]:
    """What is looked at first stands first; the switches, of which there are many, at the end."""
    panel, airplane = desk.panel, desk.story.setting.airplane
    selector, meter = airplane.selector, airplane.voltmeter.name
    yield DrillRow(selector.name, SELECTOR, HAND, panel.stands[selector.name], selector.positions)
    yield _row(panel.sights[meter], SELECTOR, panel, airplane)
    yield from _seats(panel, airplane)
    for sight in panel.sights.values():
        if sight.kind in (SightKind.LAMP, SightKind.RADIO):
            yield _row(sight, LAMPS, panel, airplane)
    for item, label in desk.story.around.items():
        yield DrillRow(questions.get(item, item), AROUND, EYE, label)
    yield DrillRow(BREAKERS, AROUND, EYE, "look closer")
    for name, positions in switches_of(desk.story.setting):
        if name != selector.name:
            yield DrillRow(name, HANDS, HAND, panel.stands[name], positions)


def _seats(panel: DrillPanel, airplane: Airplane) -> Iterator[DrillRow]:
    for seat in (Seat.LEFT, Seat.CENTRE, Seat.RIGHT):
        for name, instrument in airplane.instruments.items():
            if instrument.seat is seat and name != airplane.voltmeter.name:
                yield _row(panel.sights[name], _SEATS[seat], panel, airplane)


def _row(sight: PanelSight, group: str, panel: DrillPanel, airplane: Airplane) -> DrillRow:
    flagged = [gyro for gyro in airplane.gyros.values() if gyro.instrument == sight.name]
    if any(not panel.flags[gyro.name] for gyro in flagged):
        shape = FLAG
    elif sight.life is Life.PARTIAL or sight.dark:
        shape = HALF
    else:
        shape = LIT if sight.life is Life.ALIVE else DARK
    return DrillRow(sight.name, group, shape, sight.words)
