"""Remarks on sources: cells against charging volts, batteries that nothing charges, generators over 80 %."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.minutes.generator import loadings
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import LoadDrive, OwnBatteryDrive
from runner.airplane.model.situation import everything_works
from runner.airplane.model.source import Battery, Chemistry, Generator
from runner.airplane.model.wiring import Phase
from runner.airplane.survey.remark import Remark, error, warning

CHARGING_VOLTS: Final = {
    Chemistry.LEAD_ACID: (2.25, 2.45),
    Chemistry.NICKEL_CADMIUM: (1.36, 1.52),
    Chemistry.LITHIUM_IRON: (3.38, 3.65),
}
"""Of one cell while a generator carries the bus: 28 V on 12, 19 to 20 or 8 cells (common practice, no
source)."""


def judge_sources(airplane: Airplane) -> Iterator[Remark]:
    """Everything questionable about batteries, generators and the batteries inside instruments."""
    for battery in airplane.batteries:
        yield from _cells(airplane, battery)
        yield from _uncharged(airplane, battery)
    yield from _over_80(airplane)
    for instrument in airplane.instruments.values():
        for part in instrument.parts:
            own = [drive for drive in part.drives if isinstance(drive, OwnBatteryDrive)]
            loads = [name for drive in part.drives if isinstance(drive, LoadDrive) for name in drive.loads]
            if own:
                yield from _own_battery(airplane, instrument.name, own[0], loads)


def _cells(airplane: Airplane, battery: Battery) -> Iterator[Remark]:
    low, high = CHARGING_VOLTS[battery.chemistry]
    for source in airplane.sources.values():
        if not isinstance(source, Generator):
            continue
        volts = source.volts / battery.cells
        if not low <= volts <= high:
            fits = round(source.volts / ((low + high) / 2))
            message = (
                f'"{battery.name}": {source.volts:g} V of "{source.name}" are {volts:.2f} V on each of'
                f" {battery.cells} {battery.chemistry} cells, which want {low} to {high}; write {fits} cells,"
                " or the generator's true volts"
            )
            yield error(airplane, battery.name, message)


def _uncharged(airplane: Airplane, battery: Battery) -> Iterator[Remark]:
    reached = LifeNetwork(airplane).solve(everything_works(airplane)).carriers.get(battery.bus, ())
    if not any(isinstance(airplane.sources[name], Generator) for name in reached):
        message = (
            f'"{battery.name}": in "{airplane.selector.normal}" no generator reaches the'
            f" {battery.bus}, so nothing charges it; add the link that does"
        )
        yield warning(airplane, battery.name, message)


def _over_80(airplane: Airplane) -> Iterator[Remark]:
    for phase in (Phase.RECOGNISE, Phase.CRUISE, Phase.APPROACH):
        for each in loadings(airplane, phase):
            if each.is_over:
                state = f"with {each.lost} lost" if each.lost else "with every source working"
                message = (
                    f'"{each.generator}" carries {each.amps:.0f} A of {each.rated_amps:g} in {phase} {state}:'
                    " over 80 % (AC 43.13-1B 11-35 a); placard it, shed loads, or write a larger one"
                )
                yield warning(airplane, each.generator, message)


def _own_battery(airplane: Airplane, name: str, drive: OwnBatteryDrive, loads: list[str]) -> Iterator[Remark]:
    if drive.tested is None:
        message = (
            f'"{name}": nobody has written when its own battery last gave its {drive.minutes:g} min; add'
            ' "tested: DATE" beside them'
        )
        yield warning(airplane, name, message)
    alive = LifeNetwork(airplane).solve(everything_works(airplane)).alive
    if not loads:
        message = f'"{name}": no load charges its own battery; name it before "own_battery_minutes"'
        yield warning(airplane, name, message)
    for load in loads:
        if load not in alive:
            message = f'"{name}": "{load}", which charges its own battery, is dead in normal; mend its feed'
            yield error(airplane, load, message)
