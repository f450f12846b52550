"""What `eyesout bus` reports: one situation of an airplane beside the normal one, as data."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import isinf
from typing import Final

from runner.airplane.electric.current_network import Electric
from runner.airplane.electric.limit import Limit, Passed, limits
from runner.airplane.life.lively import Life, Picture, picture
from runner.airplane.life.path import Break, CurrentPath, path_to
from runner.airplane.life.seat import PILOT_SENSES, SeatReading, SeatView, dark, fuller_seat, gone, seat_view
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import LoadDrive, Seat, Sense
from runner.airplane.model.rule import ROWS
from runner.airplane.model.situation import Situation, everything_works
from runner.airplane.model.wiring import Service

START_SECONDS: Final = 1.0
"""A start current is over by then (ours): a breaker that bears it longer is not told."""
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
        """Why a load is alive or dead: for want of a way, or of volts."""
        flow, situation = self.after.solution, self.after.situation
        if flow.let_go:
            situation = replace(situation, stuck_open=situation.stuck_open | flow.let_go.keys())
        way = path_to(self.airplane, situation, self.airplane.loads[load])
        told = [
            Break(each.name, f"{each.name} lets go at {flow.let_go[each.name]:.1f} V")
            if each.name in flow.let_go
            else each
            for each in way.breaks
        ]
        if load in flow.lost:
            floor = self.airplane.loads[load].traits.drop_out_volts
            told.append(Break(load, f"{load} drops out at {flow.lost[load]:.1f} V, under its {floor:g} V"))
        return CurrentPath(way.steps, tuple(told))

    def limits(self) -> tuple[Limit, ...]:
        """Every limit that is passed in the situation."""
        return limits(self.airplane, self.after.situation, self.after.solution)

    def starting(self) -> tuple[Limit, ...]:
        """What is passed besides while every live load starts at once."""
        steady = {(limit.kind, limit.name) for limit in self.limits()}
        flow = Electric(self.airplane, surge=True).solve(self.after.situation)
        found = limits(self.airplane, self.after.situation, flow)
        return tuple(
            limit
            for limit in found
            if (limit.kind, limit.name) not in steady
            and (limit.kind not in (Passed.BREAKER, Passed.LINK) or limit.seconds <= START_SECONDS)
        )

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
    """The report as plain data for JSON; amperes are steady currents, negative into a battery."""
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
        "sources": {name: _source(report, name) for name in airplane.sources},
        "limits": [_limit(each) for each in report.limits()],
        "limits_while_starting": [_limit(each) for each in report.starting()],
        "loads": {name: _load(report, name, lives_before) for name in airplane.loads},
        "instruments": {name: lives[name] for name in airplane.instruments},
        "parts": {
            instrument.part_name(part): lives[instrument.part_name(part)]
            for instrument in airplane.instruments.values()
            for part in instrument.parts
            if part.name
        },
        "seats": {view.seat: _seat(report, view) for view in report.views()},
        "fuller_seat": report.fuller,
        "gone": {service: list(names) for service, names in report.gone()},
    }


def _bus(report: BusReport, bus: str) -> Mapping[str, object]:
    carriers = report.after.solution.carriers.get(bus, ())
    amps = report.after.solution.bus_amps.get(bus, 0.0)
    volts = report.after.solution.volts[bus]
    return {
        "alive": bool(carriers),
        "carried_by": list(carriers),
        "amps": round(amps, 2),
        "volts": round(volts, 2),
    }


def _source(report: BusReport, name: str) -> Mapping[str, object]:
    solution = report.after.solution
    is_lost = name in report.after.situation.lost
    return {
        "lost": is_lost,
        "amps": round(solution.source_amps[name], 2) + 0.0,
        "volts": None if is_lost else round(solution.volts[report.airplane.sources[name].bus], 2),
    }


def _limit(limit: Limit) -> Mapping[str, object]:
    return {
        "limit": limit.kind,
        "name": limit.name,
        "figure": round(limit.figure, 2),
        "bound": round(limit.bound, 2),
        "opens_in_seconds": None if isinf(limit.seconds) else round(limit.seconds, 1),
        "message": limit.message,
    }


def _load(report: BusReport, name: str, before: Mapping[str, Life]) -> Mapping[str, object]:
    path = report.path(name)
    return {
        "life": Life.DEAD if path.breaks else Life.ALIVE,
        "normally": before[name],
        "amps": report.airplane.loads[name].amps,
        "path": list(path.steps),
        "breaks": [each.cause for each in path.breaks],
    }


def power_words(report: BusReport, kept: SeatReading) -> str:
    """What keeps an instrument alive, with the volts of its buses."""
    volts = ", ".join(f"{report.after.solution.volts[bus]:.1f} V" for bus in kept.buses)
    return f"{kept.power}, {volts}" if volts else kept.power


def _seat(report: BusReport, view: SeatView) -> Mapping[str, object]:
    volts = report.after.solution.volts
    return {
        "keeps": {
            sense: [
                {
                    "shown_by": kept.shown_by,
                    "power": kept.power,
                    "volts": [round(volts[bus], 2) for bus in kept.buses],
                }
                for kept in view.kept[sense]
            ]
            for sense in PILOT_SENSES
        },
        "91.205(d)": [
            {"paragraph": row.paragraph, "wants": row.wants, "kept": view.meets(row)} for row in ROWS
        ],
    }


def _rounded(amps: Mapping[str, float]) -> Mapping[str, float]:
    return {name: round(each, 2) + 0.0 for name, each in amps.items()}
