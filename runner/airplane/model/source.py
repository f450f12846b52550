"""Sources: where current comes from, and what is known of each before it is drawn from."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Chemistry(StrEnum):
    """What a battery is made of; decides what its open-circuit voltage can tell."""

    LEAD_ACID = "lead-acid"
    NICKEL_CADMIUM = "nickel-cadmium"


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


@dataclass(frozen=True, slots=True)
class Generator:
    """A generator or alternator turned by an engine."""

    name: str
    bus: str
    amps: float
    """Continuous rating."""
    volts: float


@dataclass(frozen=True, slots=True)
class GroundPower:
    """A receptacle for a ground power cart."""

    name: str
    bus: str
    amps: float
    volts: float


Source = Battery | Generator | GroundPower
