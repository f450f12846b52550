"""What `eyesout bus` reports: one situation of an airplane beside the normal one, as data."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from runner.airplane.life.lively import Life, Picture, picture
from runner.airplane.life.path import CurrentPath, path_to
from runner.airplane.life.seat import PILOT_SENSES, SeatView, dark, fuller_seat, gone, seat_view
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import LoadDrive, Seat, Sense
from runner.airplane.model.rule import ROWS
from runner.airplane.model.situation import Situation, everything_works
from runner.airplane.model.wiring import Service

SEATS: Final = (Seat.LEFT, Seat.RIGHT)
WATCHED: Final = ((Service.ICE, None), (Service.ENGINE, Sense.ENGINE), (Service.WARNING, Sense.WARNING))
"""What a pilot must know to be gone: a service of loads, and the sense of the instruments that show it."""


@dataclass(frozen=True, slots=True)
class BusReport:
    """A situation and what it is compared with."""

    before: Picture
    """The normal position with everything working."""
    after: Picture

    @property
    def airplane(self) -> Airplane:
        """The tail."""
        return self.after.airplane

    def path(self, load: str) -> CurrentPath:
        """Why a load is alive or dead."""
        return path_to(self.airplane, self.after.situation, self.airplane.loads[load])

    def views(self) -> tuple[SeatView, SeatView]:
        """What the left and the right seat keep."""
        return seat_view(self.after, Seat.LEFT), seat_view(self.after, Seat.RIGHT)

    @property
    def fuller(self) -> Seat | None:
        """The seat that keeps the fuller set; None when they are alike."""
        return fuller_seat(self.after)

    def gone(self) -> Iterator[tuple[Service, tuple[str, ...]]]:
        """Ice protection, engine and warning: what worked before and does not now."""
        for service, sense in WATCHED:
            shown = dark(self.before, self.after, sense) if sense else ()
            silent = gone(self.before, self.after, service)
            yield service, (*shown, *(name for name in silent if not (shown and self._drives(name))))

    def _drives(self, load: str) -> bool:
        """Whether an instrument shows what the load does, so that it need not be named beside it."""
        return any(
            isinstance(drive, LoadDrive) and load in drive.loads
            for instrument in self.airplane.instruments.values()
            for part in instrument.parts
            for drive in part.drives
        )

    def partial(self) -> Iterator[tuple[str, tuple[str, ...], tuple[str, ...]]]:
        """Instruments that work in part: name, live parts, dead parts."""
        for instrument in self.airplane.instruments.values():
            if self.after.life_of_instrument(instrument) is Life.PARTIAL:
                live = tuple(part.name for part in instrument.parts if self.after.drive_of(part))
                yield (
                    instrument.name,
                    live,
                    tuple(part.name for part in instrument.parts if part.name not in live),
                )


def bus_report(airplane: Airplane, situation: Situation) -> BusReport:
    """Solve a situation and the normal one."""
    return BusReport(picture(airplane, everything_works(airplane)), picture(airplane, situation))


def bus_dict(report: BusReport) -> Mapping[str, object]:
    """The report as plain data for JSON; amperes are steady currents."""
    airplane, situation, solution = report.airplane, report.after.situation, report.after.solution
    lives_before, lives = report.before.lives(), report.after.lives()
    return {
        "airplane": airplane.name,
        "title": airplane.title,
        "registration": airplane.registration,
        "selector": airplane.selector.name,
        "position": situation.position,
        "normal_position": airplane.selector.normal,
        "lost": sorted(situation.lost),
        "pulled": sorted(situation.pulled),
        "sources_amps": _rounded(solution.source_amps),
        "buses": {bus: _bus(report, bus) for bus in airplane.buses},
        "links_amps": _rounded(solution.link_amps),
        "loads": {name: _load(report, name, lives_before) for name in airplane.loads},
        "instruments": {name: lives[name] for name in airplane.instruments},
        "parts": {
            instrument.part_name(part): lives[instrument.part_name(part)]
            for instrument in airplane.instruments.values()
            for part in instrument.parts
            if part.name
        },
        "seats": {view.seat: _seat(view) for view in report.views()},
        "fuller_seat": report.fuller,
        "gone": {service: list(names) for service, names in report.gone()},
    }


def _bus(report: BusReport, bus: str) -> Mapping[str, object]:
    carriers = report.after.solution.carriers.get(bus, ())
    amps = report.after.solution.bus_amps.get(bus, 0.0)
    return {"alive": bool(carriers), "carried_by": list(carriers), "amps": round(amps, 2)}


def _load(report: BusReport, name: str, before: Mapping[str, Life]) -> Mapping[str, object]:
    path = report.path(name)
    return {
        "life": Life.DEAD if path.breaks else Life.ALIVE,
        "normally": before[name],
        "amps": report.airplane.loads[name].amps,
        "path": list(path.steps),
        "breaks": [each.cause for each in path.breaks],
    }


def _seat(view: SeatView) -> Mapping[str, object]:
    return {
        "keeps": {
            sense: [{"shown_by": kept.shown_by, "power": kept.power} for kept in view.kept[sense]]
            for sense in PILOT_SENSES
        },
        "91.205(d)": [
            {"paragraph": row.paragraph, "wants": row.wants, "kept": view.meets(row)} for row in ROWS
        ],
    }


def _rounded(amps: Mapping[str, float]) -> Mapping[str, float]:
    return {name: round(each, 2) for name, each in amps.items()}
