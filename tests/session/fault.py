"""Faults of ports: which call of which port raises, hangs or comes late, drawn from a seed."""

from dataclasses import dataclass, field
from enum import StrEnum
from random import Random
from typing import Final

from runner.errors import RecordError
from tests.session.simulation import EVER, Simulation


class Place(StrEnum):
    """A port of the session, with the record, which is none that a run can go on without."""

    EAR = "ear"
    MICROPHONE = "microphone"
    MOUTH = "voice"
    SPEAKER = "loudspeaker"
    CLIP = "note"
    SCREEN = "screen"
    RECORD = "record"


class Kind(StrEnum):
    """What goes wrong with a call."""

    RAISES = "raises"
    HANGS = "hangs"
    LATE = "comes late"
    FULL = "disk full"


FAULTS: Final = tuple(
    (place, kind) for place in Place for kind in Kind if kind is not Kind.FULL or place is Place.RECORD
)
"""Every fault that there is."""


@dataclass
class Plan:
    """The faults of one run."""

    seed: int
    rates: dict[tuple[Place, Kind], float]
    """How likely each fault is, at each call."""
    happened: list[tuple[float, Place, Kind]] = field(default_factory=list)
    """When which fault happened, of those that must be told."""
    unnoticed: int = 0
    """Faults that nobody may have waited for: the end of a prompt that a newer one cut short."""

    def __post_init__(self) -> None:
        self._dice = {place: Random(f"{self.seed} {place}") for place in Place}  # noqa: S311 - dice of a test

    def meet(self, simulation: Simulation, place: Place) -> None:
        """A call of this port: return at once, mostly; or raise, hang for ever, or hang for some seconds."""
        kind = self.draw(simulation, place)
        if kind is Kind.RAISES:
            raise OSError(5, f"the {place} let us down\n\x1b[31m")
        if kind is Kind.FULL:
            raise RecordError("database or disk is full; free some space")
        if kind is not None:
            simulation.hang(EVER if kind is Kind.HANGS else self._dice[place].uniform(0.2, 20.0))

    def draw(self, simulation: Simulation, place: Place, *, is_noticed: bool = True) -> Kind | None:
        """What goes wrong with this call, mostly nothing."""
        dice = self._dice[place].random()
        for kind in Kind:
            rate = self.rates.get((place, kind), 0.0)
            if dice < rate:
                self.unnoticed += not is_noticed
                self.happened += [(simulation.now(), place, kind)] if is_noticed else []
                return kind
            dice -= rate
        return None

    def late(self, place: Place) -> float:
        """Seconds of a lateness."""
        return self._dice[place].uniform(0.2, 20.0)


def one_fault(seed: int, place: Place, kind: Kind) -> Plan:
    """One kind of fault at one port, often enough that most runs meet it more than once."""
    often = {Place.RECORD: 0.06, Place.CLIP: 0.7, Place.EAR: 0.03, Place.MICROPHONE: 0.03}
    return Plan(seed, {(place, kind): often.get(place, 0.1)})


def every_fault(seed: int) -> Plan:
    """Anything may go wrong anywhere; the record seldom, since that ends the run."""
    rates = {fault: 0.004 for fault in FAULTS if fault[0] is not Place.RECORD}
    return Plan(
        seed, rates | {(Place.RECORD, kind): 0.002 for kind in Kind} | {(Place.CLIP, k): 0.1 for k in Kind}
    )
