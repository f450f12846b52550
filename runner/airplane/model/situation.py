"""Situations: where the selector stands, and what has been lost, pulled or broken."""

from __future__ import annotations

from dataclasses import dataclass

from runner.airplane.electric.trait import Switch
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.source import GroundPower

NOTHING: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Situation:
    """One state of the airplane; every field but the position holds names of its file."""

    position: str
    lost: frozenset[str] = NOTHING
    """Sources that give nothing, and vacuum pumps that do not turn."""
    pulled: frozenset[str] = NOTHING
    """Breakers that are out."""
    stuck_open: frozenset[str] = NOTHING
    """Links that no longer conduct."""
    stuck_closed: frozenset[str] = NOTHING
    """Links that conduct in every position of the selector."""
    shorted: frozenset[str] = NOTHING
    """Buses that carry nothing."""
    failed: frozenset[str] = NOTHING
    """Loads that draw nothing and do nothing."""
    moved: frozenset[tuple[str, str]] = frozenset()
    """Switches that do not stand where they belong: (switch, position)."""
    is_parked: bool = False
    """Whether switches stand as they are parked, unless they are moved."""

    def stands(self, switch: Switch) -> str:
        """The position of a switch beside the selector."""
        usual = switch.parked if self.is_parked else switch.normal
        return next((position for name, position in self.moved if name == switch.name), usual)


def on_battery(airplane: Airplane, position: str, *, failed: frozenset[str] = NOTHING) -> Situation:
    """The airplane on its battery alone: no generator turns and no ground power is plugged in.

    Loads in `failed` are off, whether broken or shed.
    """
    is_parked = position == airplane.selector.parked
    return Situation(position, lost=airplane.other_sources, failed=failed, is_parked=is_parked)


def everything_works(airplane: Airplane) -> Situation:
    """The normal position with engines running and nothing lost; no cart is plugged in."""
    carts = (name for name, source in airplane.sources.items() if isinstance(source, GroundPower))
    return Situation(airplane.selector.normal, lost=frozenset(carts))
