"""Faults that look alike: what no look where a check goes can tell apart, by the wiring alone.

A story hides only what looks like nothing else.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Mapping

from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import Situation, on_battery
from runner.airplane.model.source import GroundPower
from runner.drill.played.hidden import BASIS, Hidden, HiddenKind, hidden_faults_of
from runner.fault.fault import Ailing, Kind, ailing

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
