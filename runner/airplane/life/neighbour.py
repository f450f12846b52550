"""Neighbours: what else hangs on the breaker or the bus of a load, for the squawk that names it."""

from dataclasses import dataclass

from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Instrument, LoadDrive


@dataclass(frozen=True, slots=True)
class Neighbours:
    """Loads that may share a load's fault, each in the order of the file."""

    on_breaker: tuple[str, ...]
    on_bus: tuple[str, ...]


def neighbours_of(airplane: Airplane, name: str) -> Neighbours:
    """What shares a breaker or a bus with a load, or with the loads behind an instrument or part.

    KeyError when the airplane has nothing of that name.
    """
    own = loads_behind(airplane, name)
    feeds = [feed for load in own for feed in airplane.loads[load].feeds]
    buses = {feed.bus for feed in feeds}
    breakers = {feed.breaker for feed in feeds if feed.breaker is not None}
    others = [load for load in airplane.loads.values() if load.name not in own]
    return Neighbours(
        on_breaker=tuple(load.name for load in others if breakers & {feed.breaker for feed in load.feeds}),
        on_bus=tuple(load.name for load in others if buses & {feed.bus for feed in load.feeds}),
    )


def loads_behind(airplane: Airplane, name: str) -> frozenset[str]:
    """The loads that a load (itself), an instrument or a part of one depends on; KeyError when unknown."""
    if name in airplane.loads:
        return frozenset({name})
    found = [
        drive.loads
        for instrument in airplane.instruments.values()
        for part in instrument.parts
        if name in (instrument.name, instrument.part_name(part))
        for drive in part.drives
        if isinstance(drive, LoadDrive)
    ]
    if not found and not _has_instrument(airplane, name):
        raise KeyError(name)
    return frozenset(load for loads in found for load in loads)


def _has_instrument(airplane: Airplane, name: str) -> bool:
    def shows(instrument: Instrument) -> bool:
        return name in (instrument.name, *(instrument.part_name(part) for part in instrument.parts))

    return any(shows(instrument) for instrument in airplane.instruments.values())
