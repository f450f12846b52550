"""Seats: what each pilot can still read, by what power, and which seat keeps the fuller set."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from runner.airplane.life.lively import Picture
from runner.airplane.model.instrument import Drive, LoadDrive, Part, Seat, Sense
from runner.airplane.model.rule import ROWS, RuleRow
from runner.airplane.model.source import Generator
from runner.airplane.model.wiring import Service

PILOT_SENSES = (
    Sense.ATTITUDE,
    Sense.DIRECTION,
    Sense.AIRSPEED,
    Sense.ALTITUDE,
    Sense.VERTICAL_SPEED,
    Sense.TURN,
    Sense.SLIP,
    Sense.NAVIGATION,
    Sense.COMMUNICATION,
)
"""In the order in which a seat is judged."""


@dataclass(frozen=True, slots=True)
class SeatReading:
    """One thing that a seat can still read."""

    shown_by: str
    """Instrument or part."""
    power: str
    buses: tuple[str, ...]
    """That feed it now; empty for what needs no bus."""
    outlives_battery: bool
    """Works without the airplane's electrical system: air, vacuum, its own battery, or nothing at all."""


@dataclass(frozen=True, slots=True)
class SeatView:
    """What one seat keeps in a situation."""

    seat: Seat
    kept: Mapping[Sense, tuple[SeatReading, ...]]
    """For every sense; an empty tuple where nothing remains."""
    has_generator: bool

    def meets(self, row: RuleRow) -> bool:
        """Whether the seat still has what a row of 91.205(d) asks for."""
        if not row.senses:
            return self.has_generator
        return all(self.kept[sense] for sense in row.senses)

    @property
    def rank(self) -> tuple[int, int, int]:
        """Rows of 91.205(d) met, pilot senses kept, and those of them that outlive the battery."""
        senses = [self.kept[sense] for sense in PILOT_SENSES]
        outliving = [any(each.outlives_battery for each in kept) for kept in senses]
        return sum(self.meets(row) for row in ROWS), sum(map(bool, senses)), sum(outliving)


def seat_view(picture: Picture, seat: Seat) -> SeatView:
    """What can be read from a seat, instruments in the centre included."""
    kept: dict[Sense, list[SeatReading]] = {sense: [] for sense in Sense}
    for name, part in _parts_for(picture, seat):
        drive = picture.drive_of(part)
        if drive is not None:
            for sense in part.senses:
                kept[sense].append(_kept(picture, name, drive))
    return SeatView(seat, {sense: tuple(each) for sense, each in kept.items()}, _has_generator(picture))


def fuller_seat(picture: Picture) -> Seat | None:
    """The seat that keeps more of 91.205(d), then more senses, then more without the battery; None: alike."""
    left, right = seat_view(picture, Seat.LEFT), seat_view(picture, Seat.RIGHT)
    if left.rank == right.rank:
        return None
    return Seat.LEFT if left.rank > right.rank else Seat.RIGHT


def gone(before: Picture, after: Picture, service: Service) -> tuple[str, ...]:
    """Loads of a service that are alive before and dead after, in the order of the file."""
    lost = before.solution.alive - after.solution.alive
    return tuple(
        name for name, load in after.airplane.loads.items() if name in lost and load.service is service
    )


def dark(before: Picture, after: Picture, sense: Sense) -> tuple[str, ...]:
    """Instruments and parts for a sense that show life before and none after."""
    return tuple(
        instrument.part_name(part)
        for instrument in after.airplane.instruments.values()
        for part in instrument.parts
        if sense in part.senses and before.drive_of(part) is not None and after.drive_of(part) is None
    )


def _parts_for(picture: Picture, seat: Seat) -> Iterator[tuple[str, Part]]:
    for instrument in picture.airplane.instruments.values():
        if instrument.seat in (seat, Seat.CENTRE):
            for part in instrument.parts:
                yield instrument.part_name(part), part


def _kept(picture: Picture, name: str, drive: Drive) -> SeatReading:
    loads = drive.loads if isinstance(drive, LoadDrive) else ()
    buses = dict.fromkeys(picture.feed_of(load) for load in loads)
    return SeatReading(
        name,
        picture.power_of(drive),
        tuple(bus for bus in buses if bus is not None),
        not isinstance(drive, LoadDrive),
    )


def _has_generator(picture: Picture) -> bool:
    return any(
        isinstance(source, Generator) and source.name not in picture.situation.lost
        for source in picture.airplane.sources.values()
    )
