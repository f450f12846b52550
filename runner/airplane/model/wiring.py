"""Wiring: the selector, the buses, the links between them, the breakers, and the loads at the end."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from runner.airplane.electric.trait import PLAIN_LINK, PLAIN_LOAD, LinkTraits, LoadTraits


class Phase(StrEnum):
    """Times of different use: a check on the ground, and the three of a flight on the battery."""

    CHECK = "check"
    RECOGNISE = "recognise"
    CRUISE = "cruise"
    APPROACH = "approach"


class Service(StrEnum):
    """What a load is there for."""

    FLIGHT = "flight instrument"
    ENGINE = "engine indication"
    WARNING = "warning"
    ICE = "ice protection"
    COMMUNICATION = "communication"
    NAVIGATION = "navigation"
    LIGHTING = "lighting"
    FUEL = "fuel"
    GEAR = "gear"
    CABIN = "cabin"
    POWER = "power"


class Keep(StrEnum):
    """How dearly a load is kept when the battery must last."""

    MUST = "must"
    WANT = "want"
    SPARE = "spare"


class Act(StrEnum):
    """What a load does to the world when it lives: reasons not to switch it on just to see it dead."""

    RADIATES = "radiates"
    HEATS = "heats"
    MOVES = "moves"
    PUMPS = "pumps"


class LinkKind(StrEnum):
    """What joins two buses."""

    RELAY = "relay"
    DIODE = "diode"
    INVERTER = "inverter"
    LIMITER = "limiter"
    WIRE = "wire"


@dataclass(frozen=True, slots=True)
class Selector:
    """The switch that decides what the battery feeds."""

    name: str
    positions: tuple[str, ...]
    """In the order of the panel."""
    normal: str
    """For flight, with everything working."""
    parked: str
    """As found before the first flight, and where a check must leave it."""
    reserve: str
    """The battery alone feeds what is needed to go on."""


@dataclass(frozen=True, slots=True)
class Link:
    """A conductor between two buses."""

    name: str
    kind: LinkKind
    start: str
    end: str
    closed_in: frozenset[str]
    """Selector positions in which it conducts."""
    breaker: str | None
    traits: LinkTraits = PLAIN_LINK

    @property
    def is_one_way(self) -> bool:
        """Whether current passes from `start` to `end` only."""
        return self.kind in (LinkKind.DIODE, LinkKind.INVERTER)


@dataclass(frozen=True, slots=True)
class Feed:
    """One way for a load to get its power."""

    bus: str
    breaker: str | None


@dataclass(frozen=True, slots=True)
class Load:
    """Something that draws current."""

    name: str
    feeds: tuple[Feed, ...]
    """Any one of them keeps it alive; the first that has power carries the current."""
    amps: float
    """Steady current; behind an inverter, as drawn from the inverter's own bus."""
    surge_amps: float
    duty: Mapping[Phase, float]
    """Share of the time that it draws in each phase, 0 to 1."""
    service: Service
    keep: Keep
    switch: str | None = None
    """Its own switch, by the name that checks use; None when it has none."""
    acts: Act | None = None
    traits: LoadTraits = PLAIN_LOAD
