"""What a run needs to know beforehand: the check and the electrical facts that it judges by."""

from collections.abc import Mapping
from dataclasses import dataclass

from runner.checklist.format.check import Check


@dataclass(frozen=True, slots=True)
class Plan:
    """A check with the figures that the battery line needs; the session fills them in from the airplane."""

    check: Check
    normal_position: str
    """The selector position that the airplane is found and left in."""
    battery_amps: Mapping[str, float]
    """Current drawn from the battery in each selector position, amperes."""
    usable_ampere_hours: float
    warn_share: float
    """Share of the usable ampere-hours at which the run warns, 0 to 1."""
    has_heard_cautions: bool = False
    """This pilot has gone through the cautions of exactly this check before."""
    open_squawks: tuple[str, ...] = ()
    """Squawks of this airplane that are not closed, each in a few words, the newest first."""


def plan_on_ground(check: Check, normal_position: str = "") -> Plan:
    """A plan that knows nothing of a battery: for any airplane, or for a walk without time."""
    return Plan(check, normal_position, {}, usable_ampere_hours=0.0, warn_share=0.0)
