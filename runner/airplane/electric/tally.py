"""Tally: what the live loads of each bus take together, by the way in which they draw."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from runner.airplane.electric.trait import Draw
from runner.airplane.life.life_network import live_feed
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation
from runner.airplane.model.wiring import Load

DRAWS: Final = tuple(Draw)
Taken = list[float]
"""Amperes at rated volts, in the order of DRAWS."""


@dataclass(frozen=True, slots=True)
class LoadShare:
    """One load's part in a bus's tally."""

    bus: str
    column: int
    amps: float


class LoadTally:
    """The loads of an airplane, added up by bus once and corrected for each situation."""

    def __init__(self, airplane: Airplane, amps: Mapping[str, float]) -> None:
        self._airplane = airplane
        self._several = [load for load in airplane.loads.values() if len(load.feeds) > 1]
        self._single = {
            load.name: _share(load, load.feeds[0].bus, amps)
            for load in airplane.loads.values()
            if len(load.feeds) == 1
        }
        self._amps = amps
        self._whole = _added(self._single.values())
        self._names_on: dict[str, set[str]] = {}
        for name, share in self._single.items():
            self._names_on.setdefault(share.bus, set()).add(name)
        self._floors = {
            bus: sorted(((airplane.loads[name].traits.drop_out_volts, name) for name in names), reverse=True)
            for bus, names in self._names_on.items()
        }

    def taken(
        self, situation: Situation, alive: frozenset[str], live: Iterable[str], lost: Iterable[str]
    ) -> dict[str, Taken]:
        """Amperes at rated volts of each live bus, without the loads in `lost`."""
        taken = {bus: list(self._whole.get(bus, (0.0, 0.0, 0.0))) for bus in live}
        for bus in taken:
            for name in self._names_on.get(bus, set()) - alive:
                _add(taken, self._single[name], -1.0)
        for name in lost:
            if name in self._single:
                _add(taken, self._single[name], -1.0)
        for load in self._several:
            if load.name in alive and load.name not in lost:
                feed = live_feed(load, situation, taken)
                if feed is not None:
                    _add(taken, _share(load, feed, self._amps), 1.0)
        return taken

    def under_floor(
        self,
        situation: Situation,
        alive: frozenset[str],
        volts: Mapping[str, float],
        lost: Mapping[str, float],
    ) -> tuple[str, float] | None:
        """The live load that is deepest under its drop-out volts, with its volts; None when there is none."""
        worst: tuple[float, str, float] | None = None
        for name, bus, floor in self._candidates(situation, alive, volts):
            have = volts[bus]
            if name in alive and name not in lost and have < floor:
                depth = floor - have
                if worst is None or (depth, name) > worst[:2]:
                    worst = (depth, name, have)
        return worst and (worst[1], worst[2])

    def _candidates(
        self, situation: Situation, alive: frozenset[str], volts: Mapping[str, float]
    ) -> Iterable[tuple[str, str, float]]:
        for bus, have in volts.items():
            for floor, name in self._floors.get(bus, ()):
                if floor <= have:
                    break
                yield name, bus, floor
        for load in self._several:
            feed = live_feed(load, situation, volts) if load.name in alive else None
            if feed is not None:
                yield load.name, feed, load.traits.drop_out_volts


def _share(load: Load, bus: str, amps: Mapping[str, float]) -> LoadShare:
    return LoadShare(bus, DRAWS.index(load.traits.draw), amps[load.name])


def _added(shares: Iterable[LoadShare]) -> dict[str, Taken]:
    whole: dict[str, Taken] = {}
    for share in shares:
        whole.setdefault(share.bus, [0.0, 0.0, 0.0])[share.column] += share.amps
    return whole


def _add(taken: dict[str, Taken], share: LoadShare, sign: float) -> None:
    if share.bus in taken:
        taken[share.bus][share.column] += sign * share.amps
