"""Electrical traits: what the file may say of a link or a load, and what holds when it does not.

The figures that stand in for missing ones are ours, typical of light airplanes; a wiring diagram's are
better.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

CONTACT_MILLIOHMS: Final = 1.0
"""A relay, a limiter or a short wire of a feeder."""
INVERTER_MILLIOHMS: Final = 5.0
DIODE_MILLIOHMS: Final = 2.0
DIODE_DROP_VOLTS: Final = 0.8
"""A silicon power diode at its working current (common practice, no source)."""
BREAKER_DROP_VOLTS: Final = 0.1
"""Over a breaker at its rated current."""


class Draw(StrEnum):
    """How a load's current follows its volts."""

    CURRENT = "current"
    """The same amperes at any volts."""
    POWER = "power"
    """More amperes as volts fall: whatever has a regulator inside."""
    RESISTANCE = "resistance"
    """Fewer amperes as volts fall: lamps and heaters."""


@dataclass(frozen=True, slots=True)
class LoadTraits:
    """How a load takes its current."""

    draw: Draw = Draw.CURRENT
    drop_out_volts: float = 0.0
    """Under it the load stops working and draws nothing."""


@dataclass(frozen=True, slots=True)
class Coil:
    """What holds a relay closed."""

    bus: str
    drop_out_volts: float
    """Under it the relay lets go."""
    amps: float = 0.0


@dataclass(frozen=True, slots=True)
class Output:
    """The alternating-current side of an inverter."""

    volts: float
    efficiency: float = 1.0
    """Power out over power in, 0 to 1."""
    idle_watts: float = 0.0
    """Taken with nothing connected."""
    rated_watts: float | None = None
    drop_out_volts: float = 0.0
    """Direct-current volts under which it gives nothing."""


@dataclass(frozen=True, slots=True)
class Switch:
    """A switch of the airplane beside the selector, and where it stands unless it is moved."""

    name: str
    positions: tuple[str, ...]
    normal: str
    """Whenever the selector is not parked."""
    parked: str


@dataclass(frozen=True, slots=True)
class SwitchGate:
    """A link's condition on a switch."""

    switch: Switch
    closed_in: frozenset[str]


@dataclass(frozen=True, slots=True)
class LinkTraits:
    """What a link does to the current that passes it."""

    milliohms: float | None = None
    """None: as is usual for its kind."""
    drop_volts: float | None = None
    """A diode's forward drop; None: as is usual."""
    rating: float | None = None
    """Amperes of a limiter without a breaker of its own."""
    coil: Coil | None = None
    output: Output | None = None
    """An inverter without one is reckoned in direct-current amperes throughout."""
    gates: tuple[SwitchGate, ...] = ()
    """All of them must allow it to be closed."""


PLAIN_LINK: Final = LinkTraits()
PLAIN_LOAD: Final = LoadTraits()
"""What the file says nothing electrical of."""
