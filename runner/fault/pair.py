"""Pairs: what is lost when something evident fails while a hidden failure has been there all along."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from runner.airplane.electric.current_network import Electric
from runner.airplane.life.lively import Picture
from runner.airplane.life.seat import PILOT_SENSES, fuller_seat, seat_view
from runner.airplane.minutes.capacity import planned_conditions, usable
from runner.airplane.minutes.reckoning import minutes_on_battery
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Seat, Sense
from runner.airplane.model.situation import Situation, everything_works
from runner.airplane.model.source import Generator
from runner.airplane.model.wiring import Keep, Phase
from runner.fault.fault import Fault, ailing


@dataclass(frozen=True, slots=True)
class Evident:
    """A failure that nobody overlooks, with what the pilot has done about it."""

    name: str
    situation: Situation


@dataclass(frozen=True, slots=True)
class PairOutlook:
    """What an evident failure leaves."""

    evident: str
    hidden: Fault | None
    lost: tuple[str, ...]
    """Loads that must be kept and are dead."""
    seats: tuple[tuple[Seat, tuple[Sense, ...]], ...]
    """What each seat has lost of what it had in the normal airplane."""
    fuller: Seat | None
    """The seat that keeps more; None when they are alike."""
    minutes: float | None
    """On the first battery by ampere-minutes at the cruise's current; None while a generator carries the
    load."""


def evident_failures(airplane: Airplane) -> Iterator[Evident]:
    """Each generator lost alone, all of them with the reserve selected, and each bus shorted."""
    normal, selector = everything_works(airplane), airplane.selector
    carts = airplane.other_sources - frozenset(
        name for name, source in airplane.sources.items() if isinstance(source, Generator)
    )
    generators = [name for name, source in airplane.sources.items() if isinstance(source, Generator)]
    for name in generators:
        yield Evident(f"{name} lost", replace(normal, lost=carts | {name}))
    reserve = replace(normal, position=selector.reserve, lost=airplane.other_sources)
    yield Evident(f'all generators lost, "{selector.reserve}" selected', reserve)
    for bus in airplane.buses:
        yield Evident(f"{bus} shorted", replace(normal, lost=carts, shorted=frozenset({bus})))


def outlooks(airplane: Airplane, hidden: Iterable[Fault], on: date) -> tuple[PairOutlook, ...]:
    """Each evident failure alone and with each hidden one, those only that lose more than it does alone."""
    found: list[PairOutlook] = []
    for evident in evident_failures(airplane):
        alone = outlook(airplane, evident, None, on)
        found.append(alone)
        for fault in hidden:
            both = outlook(airplane, evident, fault, on)
            if set(both.lost) - set(alone.lost) or _is_shorter(both, alone) or both.seats != alone.seats:
                found.append(both)
    return tuple(found)


def outlook(airplane: Airplane, evident: Evident, hidden: Fault | None, on: date) -> PairOutlook:
    """What is lost, which seat keeps what, and the minutes left."""
    ail = ailing(airplane, *(() if hidden is None else (hidden,)))
    situation = ail.with_faults(evident.situation)
    electric = Electric(ail.airplane, Phase.CRUISE)
    picture = Picture(ail.airplane, situation, electric.solve(situation))
    usual = Picture(
        airplane, everything_works(airplane), Electric(airplane).solve(everything_works(airplane))
    )
    lost = tuple(
        name
        for name, load in airplane.loads.items()
        if load.keep is Keep.MUST and name in usual.solution.alive and name not in picture.solution.alive
    )
    return PairOutlook(
        evident.name,
        hidden,
        lost,
        tuple((seat, _missing(usual, picture, seat)) for seat in (Seat.LEFT, Seat.RIGHT)),
        fuller_seat(picture),
        _minutes(ail.airplane, picture, on),
    )


def _missing(usual: Picture, picture: Picture, seat: Seat) -> tuple[Sense, ...]:
    before, after = seat_view(usual, seat), seat_view(picture, seat)
    return tuple(sense for sense in PILOT_SENSES if before.kept[sense] and not after.kept[sense])


def _minutes(airplane: Airplane, picture: Picture, on: date) -> float | None:
    """Minutes at a steady current from the charge that the file plans with."""
    amps = picture.solution.source_amps[airplane.battery.name]
    if amps <= 0.05:  # noqa: PLR2004 - a generator carries the load, or nothing does
        return None
    hours = usable(airplane.battery, planned_conditions(airplane.battery, on)).ampere_hours
    each = np.array([amps])
    plan = replace(airplane.endurance, recognise_minutes=0.0, approach_minutes=0.0)
    return float(minutes_on_battery(airplane.battery, np.array([hours]), (each, each, each), plan).total[0])


def _is_shorter(both: PairOutlook, alone: PairOutlook) -> bool:
    """Whether a tenth of the minutes and more is gone."""
    if both.minutes is None:
        return False
    return alone.minutes is None or both.minutes < 0.9 * alone.minutes
