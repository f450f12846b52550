"""Instruments: what a pilot reads, from which seat, and what each needs to go on telling the truth."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum


class Seat(StrEnum):
    """From where something can be read or worked; centre serves both seats."""

    LEFT = "left"
    RIGHT = "right"
    CENTRE = "centre"


class Sense(StrEnum):
    """What an instrument tells."""

    ATTITUDE = "attitude"
    DIRECTION = "direction"
    COMPASS = "magnetic direction"
    AIRSPEED = "airspeed"
    ALTITUDE = "altitude"
    VERTICAL_SPEED = "vertical speed"
    TURN = "turn"
    SLIP = "slip"
    NAVIGATION = "navigation"
    COMMUNICATION = "communication"
    TIME = "time"
    ENGINE = "engine"
    WARNING = "warning"
    VOLTS = "volts"


@dataclass(frozen=True, slots=True)
class LoadDrive:
    """Works while all of these loads are alive."""

    loads: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OwnBatteryDrive:
    """Works for its rated minutes from a battery inside it."""

    minutes: float
    tested: date | None = None
    """When it last gave them; None when nobody has written it."""


@dataclass(frozen=True, slots=True)
class VacuumDrive:
    """Works while this vacuum pump turns."""

    pump: str


@dataclass(frozen=True, slots=True)
class AirDrive:
    """Works on pitot and static air alone."""

    probe: str


@dataclass(frozen=True, slots=True)
class SelfDrive:
    """Needs no power: its own sensor moves it, as a thermocouple or a magnetic compass."""


Drive = LoadDrive | OwnBatteryDrive | VacuumDrive | AirDrive | SelfDrive


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of an instrument that lives or dies by itself."""

    name: str
    """Its own word, such as `needle`; empty for an instrument that is all of a piece."""
    senses: tuple[Sense, ...]
    drives: tuple[Drive, ...]
    """Any one keeps it alive, the first that does is the one in use."""


@dataclass(frozen=True, slots=True)
class Instrument:
    """Something to read, or to speak through."""

    name: str
    seat: Seat
    parts: tuple[Part, ...]

    def part_name(self, part: Part) -> str:
        """The name by which a check calls the part: `fan speed digits`."""
        return f"{self.name} {part.name}" if part.name else self.name


@dataclass(frozen=True, slots=True)
class Gyro:
    """An electric gyro with a flag that pulls when it is up to speed."""

    name: str
    load: str
    """It spins up from the moment this load gets power."""
    instrument: str
    """Where its flag shows."""
    advise_seconds: float
    limit_seconds: float


@dataclass(frozen=True, slots=True)
class Lamp:
    """Lamps on one load, looked at one by one."""

    name: str
    load: str
    bulbs: tuple[str, ...]
    has_dimmer: bool


@dataclass(frozen=True, slots=True)
class Radio:
    """A radio as fitted in this tail."""

    name: str
    service: Sense
    load: str
    differs: str
    """How this tail's fit differs from the type's usual one; empty when it does not."""


@dataclass(frozen=True, slots=True)
class VoltBands:
    """What a voltmeter should show: (low, high) in volts."""

    passing: tuple[Decimal, Decimal]
    caution: tuple[Decimal, Decimal]


@dataclass(frozen=True, slots=True)
class Voltmeter:
    """The meter that the check reads."""

    name: str
    resolution: Decimal
    at_rest: VoltBands
    """Before the selector leaves its parked position."""
    on_reserve: VoltBands
