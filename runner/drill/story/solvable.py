"""Solvable: a story walked by who does and looks at everything, with and without each of its faults.

It is solvable when each fault makes the truth of an item another, or shows at something that can be looked
at, beside all the others. The meter's figure alone counts only where it leaves its band, and a breaker only
where what hangs on it shows.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from runner.checklist.format.check import Action, Check, Item
from runner.checklist.lint.branch import applies
from runner.drill.judged.truth import Around, truth_of
from runner.drill.played.drill_panel import BREAKERS, DrillPanel
from runner.drill.played.hidden import Hidden
from runner.drill.played.played_airplane import PlayedAirplane, switches_of
from runner.drill.played.setting import Setting

PAST_LIMIT = 1.4
"""Times the longest limit, when every flag that pulls late has pulled."""


@dataclass(frozen=True, slots=True)
class FaultProof:
    """Where a fault of a story shows beside all the others."""

    fault: Hidden
    items: tuple[str, ...]
    """Whose true answer it changes."""
    looks: tuple[str, ...]
    """What looks otherwise for it, the voltmeter and the breakers left out."""

    @property
    def is_solvable(self) -> bool:
        """Whether anybody can notice it."""
        return bool(self.items or self.looks)


def prove(check: Check, setting: Setting, around: Around) -> tuple[FaultProof, ...]:
    """Walk the check on the airplane, and on the airplane without each of its faults."""
    troupe = {fault: PlayedAirplane(setting.without(fault)) for fault in setting.hidden}
    played = PlayedAirplane(setting)
    items: dict[Hidden, dict[str, None]] = {fault: {} for fault in setting.hidden}
    looks: dict[Hidden, dict[str, None]] = {fault: {} for fault in setting.hidden}
    left_out = {setting.airplane.voltmeter.name, BREAKERS}
    for fault, other in troupe.items():  # before any hand has moved
        looks[fault] |= dict.fromkeys(sorted(played.panel().differences(other.panel()) - left_out))
    for item in (each for each in check.items if applies(each, around)):
        for panels in _asked(item, setting, played, troupe):
            truth = truth_of(item, panels[None], setting.airplane, around)
            for fault in troupe:
                well = truth_of(item, panels[fault], setting.airplane, around)
                if not truth.is_usual and truth.tells_from(well):
                    items[fault][item.name] = None
                looks[fault] |= dict.fromkeys(sorted(panels[None].differences(panels[fault]) - left_out))
        for each in (played, *troupe.values()):
            _put_back(item, each)
    return tuple(FaultProof(fault, tuple(items[fault]), tuple(looks[fault])) for fault in setting.hidden)


def _asked(
    item: Item, setting: Setting, played: PlayedAirplane, troupe: Mapping[Hidden, PlayedAirplane]
) -> Iterator[dict[Hidden | None, DrillPanel]]:
    """The panels while an item is asked: where the selector moves, as time goes on up to the last flag."""
    everyone: dict[Hidden | None, PlayedAirplane] = {None: played}
    everyone.update(troupe)
    known = dict(switches_of(setting))
    for each in everyone.values():
        for switch in (switch for switch in item.moves if known.get(switch) == ("off", "on")):
            each.move(switch, "on")
    waits: tuple[float, ...] = (0.0,)
    match item.body:
        case Action(selects=str(position)):
            for each in everyone.values():
                each.move(setting.airplane.selector.name, position)
            waits = tuple(_waits(setting))
        case _:
            pass
    for wait in waits:
        for each in everyone.values():
            if wait:
                each.leap(wait)
        yield {fault: each.panel() for fault, each in everyone.items()}


def _waits(setting: Setting) -> Iterator[float]:
    """From one gyro's limit to the next, and past the last."""
    limits = sorted(gyro.limit_seconds for gyro in setting.airplane.gyros.values())
    past = [*limits, PAST_LIMIT * limits[-1]] if limits else [60.0]
    yield 0.0
    yield past[0]
    yield from (after - before for before, after in pairwise(past) if after > before)


def _put_back(item: Item, played: PlayedAirplane) -> None:
    known = dict(switches_of(played.setting))
    for switch in (switch for switch in item.returns if known.get(switch) == ("off", "on")):
        played.move(switch, "off")
