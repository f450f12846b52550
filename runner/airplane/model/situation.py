"""Situations: where the selector stands, and what has been lost, pulled or broken."""

from __future__ import annotations

from dataclasses import dataclass

from runner.airplane.model.airplane import Airplane

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


def on_battery(airplane: Airplane, position: str, *, failed: frozenset[str] = NOTHING) -> Situation:
    """The airplane on its battery alone: no generator turns and no ground power is plugged in.

    Loads in `failed` are off, whether broken or shed.
    """
    return Situation(position, lost=airplane.other_sources, failed=failed)


def everything_works(airplane: Airplane) -> Situation:
    """The normal position with nothing lost."""
    return Situation(airplane.selector.normal)
