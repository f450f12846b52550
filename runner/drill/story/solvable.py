"""Solvable: a story walked by who does and looks at everything, with and without each of its faults.

It is solvable when each fault makes the truth of an item another, or shows at something that can be looked
at, beside all the others. The meter's figure alone counts only where it leaves its band, and a breaker only
where what hangs on it shows; a meter that is stuck shows by not moving.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation, on_battery
from runner.airplane.model.source import GroundPower
from runner.checklist.format.check import Check, Item
from runner.checklist.lint.branch import applies
from runner.drill.judged.item_truth import Around, Truth, truth_of
from runner.drill.played.drill_panel import BREAKERS, DrillPanel
from runner.drill.played.hidden import BASIS, Hidden, HiddenKind, hidden_faults_of
from runner.drill.played.played_airplane import PlayedAirplane, switches_of
from runner.drill.played.setting import Setting
from runner.fault.fault import Ailing, Kind, ailing
from runner.language.catalogue import Outcome

BY_WIRING = frozenset(
    {
        Kind.WELDED,
        Kind.NOT_CLOSING,
        Kind.BROKEN,
        Kind.SHORTED,
        Kind.BREAKER_OUT,
        Kind.DEAD,
        Kind.MISWIRED,
    }
)
"""What shows by who lives and who does not; every other kind shows as nothing else does."""
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


@dataclass(frozen=True, slots=True)
class StoryProof:
    """A whole story, walked."""

    faults: tuple[FaultProof, ...]
    halts: tuple[str, ...]
    """Items that have no true answer which lets the check go on: a gauge that is dead, or says stop."""

    @property
    def unsolvable(self) -> tuple[Hidden, ...]:
        """Faults that nobody can notice."""
        return tuple(each.fault for each in self.faults if not each.is_solvable)


def prove(check: Check, setting: Setting, around: Around) -> StoryProof:
    """Walk the check on the airplane, and on the airplane without each of its faults."""
    troupe = {fault: PlayedAirplane(setting.without(fault)) for fault in setting.hidden}
    played = PlayedAirplane(setting)
    halts: dict[str, None] = {}
    items: dict[Hidden, dict[str, None]] = {fault: {} for fault in setting.hidden}
    looks: dict[Hidden, dict[str, None]] = {fault: {} for fault in setting.hidden}
    for fault, other in troupe.items():  # before any hand has moved
        looks[fault] |= dict.fromkeys(_told(fault, played.panel(), other.panel(), setting))
    for item in (each for each in check.items if applies(each, around)):
        for panels in _asked(item, setting, played, troupe):
            truth = truth_of(item, panels[None], setting.airplane, around)
            if _halts(item, truth):
                halts[item.name] = None
            for fault in troupe:
                well = truth_of(item, panels[fault], setting.airplane, around)
                if _is_clear(item, truth) and truth.tells_from(well):
                    items[fault][item.name] = None
                looks[fault] |= dict.fromkeys(_told(fault, panels[None], panels[fault], setting))
        for each in (played, *troupe.values()):
            _put_back(item, each)
    faults = tuple(FaultProof(fault, tuple(items[fault]), tuple(looks[fault])) for fault in setting.hidden)
    return StoryProof(faults, tuple(halts))


def _is_clear(item: Item, truth: Truth) -> bool:
    """Unusual, and for a gauge by more than a step or two."""
    body = item.body.number
    if body is None or truth.number is None:
        return not truth.is_usual
    near = (truth.number + step * body.resolution for step in (-2, 0, 2))
    return all(body.outcome(number) is not Outcome.PASS for number in near)


def _halts(item: Item, truth: Truth) -> bool:
    body = item.body.number
    if body is None or truth.number is None:
        return False
    return truth.number not in body.plausible or body.outcome(truth.number) is Outcome.STOP


def _told(fault: Hidden, panel: DrillPanel, well: DrillPanel, setting: Setting) -> list[str]:
    """Where a fault shows; a meter that does not move under load tells of itself alone."""
    left_out = {BREAKERS}
    if fault.kind is not HiddenKind.METER_STUCK:
        left_out.add(setting.airplane.voltmeter.name)
    return sorted(panel.differences(well) - left_out)


def _asked(
    item: Item, setting: Setting, played: PlayedAirplane, troupe: Mapping[Hidden, PlayedAirplane]
) -> Iterator[dict[Hidden | None, DrillPanel]]:
    """The panels while an item is asked: where the selector moves, as time goes on up to the last flag."""
    everyone: dict[Hidden | None, PlayedAirplane] = {None: played, **dict(troupe.items())}
    known = dict(switches_of(setting))
    for each in everyone.values():
        for switch in (switch for switch in item.moves if known.get(switch) == ("off", "on")):
            each.move(switch, "on")
    waits: tuple[float, ...] = (0.0,)
    position = item.body.selects
    if position is not None:
        for each in everyone.values():
            each.move(setting.airplane.selector.name, position)
        waits = tuple(_waits(setting))
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


def told_apart(
    airplane: Airplane, positions: tuple[str, ...], *, is_flying: bool = False
) -> tuple[Hidden, ...]:
    """Faults that show in one of these positions, and as no other does."""
    network, well = LifeNetwork(airplane), Ailing(airplane)
    healthy = _lives(well, network, positions, is_flying=is_flying)
    groups: Mapping[Hashable, list[Hidden]] = defaultdict(list)
    for fault in hidden_faults_of(airplane):
        if fault.comes_and_goes:
            continue
        key = _key(airplane, network, fault, positions, is_flying=is_flying)
        if not (isinstance(key, tuple) and key[0] == healthy):
            groups[key].append(fault)
    return tuple(group[0] for group in groups.values() if len(group) == 1)


def _key(
    airplane: Airplane, network: LifeNetwork, fault: Hidden, positions: tuple[str, ...], *, is_flying: bool
) -> Hashable:
    """How it looks."""
    basis = fault.fault
    if fault.kind is HiddenKind.TIE_STUCK:
        sick = Ailing(airplane, stuck_closed=frozenset({fault.name}))
    elif basis is None or BASIS[fault.kind] not in BY_WIRING:
        return fault
    else:
        sick = ailing(airplane, basis)
    own = network if sick.airplane is airplane else LifeNetwork(sick.airplane)
    return _lives(sick, own, positions, is_flying=is_flying), sick.pulled


def _lives(
    sick: Ailing, network: LifeNetwork, positions: tuple[str, ...], *, is_flying: bool
) -> tuple[frozenset[str], ...]:
    return tuple(
        network.solve(sick.with_faults(_situation(sick.airplane, position, is_flying=is_flying))).alive
        for position in positions
    )


def _situation(airplane: Airplane, position: str, *, is_flying: bool) -> Situation:
    if not is_flying:
        return on_battery(airplane, position)
    carts = (name for name, each in airplane.sources.items() if isinstance(each, GroundPower))
    return Situation(position, lost=frozenset(carts))
