"""Sources: where current comes from, and what is known of each before it is drawn from."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Final


class Chemistry(StrEnum):
    """What a battery is made of; decides what its open-circuit voltage can tell."""

    LEAD_ACID = "lead-acid"
    NICKEL_CADMIUM = "nickel-cadmium"
    LITHIUM_IRON = "lithium-iron-phosphate"


@dataclass(frozen=True, slots=True)
class CapacityTest:
    """The last capacity test of a battery."""

    percent: float
    """Measured minutes over rated minutes, times 100."""
    on: date


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far off each figure may be: two standard deviations, the unit is in the name."""

    capacity_percent: float = 5.0
    amps_percent: float = 10.0
    charge_percent: float = 5.0
    celsius: float = 5.0


@dataclass(frozen=True, slots=True)
class Battery:
    """A battery as its label, its maker's table and its last capacity test describe it."""

    name: str
    bus: str
    chemistry: Chemistry
    cells: int
    ampere_hours: float
    """Rated capacity at `hour_rate`."""
    hour_rate: float
    """Hours of the rated discharge: 1 for most aircraft batteries."""
    end_volts: float
    """Where the rated discharge ends: 20.0 for a 24 V battery of either chemistry."""
    peukert: float
    """Peukert's exponent, 1 for an ideal battery."""
    tested: CapacityTest
    fade_percent_per_year: float
    """Capacity lost per year since the test, percent of rated."""
    charge_percent: float
    """Charge that may be counted on at the moment generation fails, percent of what it can hold."""
    celsius: float
    """Temperature to plan with."""
    temperature_shares: tuple[tuple[float, float], ...]
    """The maker's table: (celsius, share of rated capacity), from cold to warm.

    A lead-acid battery may go without: IEEE 485's table then serves.
    """
    tolerance: Tolerance
    milliohms: float | None = None
    """Internal resistance when full, at 25 C; 0 for an ideal battery, None for what is usual."""
    charge_amps: float | None = None
    """The most that it takes while it is charged; None for a fifth of its ampere-hours."""


@dataclass(frozen=True, slots=True)
class Generator:
    """A generator or alternator turned by an engine."""

    name: str
    bus: str
    amps: float
    """Continuous rating."""
    volts: float
    limit_amps: float | None = None
    """The most that it gives before it sags; None for its rating."""
    droop_percent: float = 1.0
    """Share of its volts by which it falls from no current to its rating."""


@dataclass(frozen=True, slots=True)
class GroundPower:
    """A receptacle for a ground power cart."""

    name: str
    bus: str
    amps: float
    volts: float


Source = Battery | Generator | GroundPower

VOLTS_PER_CELL: Final = {
    Chemistry.LEAD_ACID: 2.0,
    Chemistry.NICKEL_CADMIUM: 1.2,
    Chemistry.LITHIUM_IRON: 3.2,
}


def nominal_volts(source: Source) -> float:
    """Rated volts of a source; a battery's from its cells."""
    if isinstance(source, Battery):
        return source.cells * VOLTS_PER_CELL[source.chemistry]
    return source.volts
