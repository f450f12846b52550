"""Remarks on buses and the selector: what is never fed, what changes nothing, what the reserve leans on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from runner.airplane.electric.current_network import Electric
from runner.airplane.electric.flow import BatteryState
from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import everything_works, on_battery
from runner.airplane.model.wiring import Phase
from runner.airplane.survey.remark import Remark, error, warning

LEAST_AMPS = 0.01


def judge_reserve(airplane: Airplane) -> Iterator[Remark]:
    """Unfed buses, idle selector positions, and a reserve that depends on what it should survive."""
    network = LifeNetwork(airplane)
    yield from _unfed(airplane, network)
    yield from _idle(airplane, network)
    yield from _coils(airplane, network)
    yield from _charging(airplane)


def _unfed(airplane: Airplane, network: LifeNetwork) -> Iterator[Remark]:
    fed = {
        bus
        for position in airplane.selector.positions
        for bus in network.solve(replace(everything_works(airplane), position=position)).carriers
    }
    for bus in airplane.buses:
        if bus not in fed:
            loads = [load.name for load in airplane.loads.values() if load.feeds[0].bus == bus]
            message = (
                f'no source reaches the "{bus}" in any position of the selector; add the link that feeds it'
            )
            yield error(airplane, loads[0] if loads else bus, message)


def _idle(airplane: Airplane, network: LifeNetwork) -> Iterator[Remark]:
    seen: dict[tuple[frozenset[str], frozenset[str]], str] = {}
    for position in airplane.selector.positions:
        both = (
            network.solve(replace(everything_works(airplane), position=position)).alive,
            network.solve(on_battery(airplane, position)).alive,
        )
        if both in seen:
            message = (
                f'the {airplane.selector.name} at "{position}" does the same as at "{seen[both]}";'
                ' name it in a link\'s "closed_in", or leave it out'
            )
            yield warning(airplane, "selector", message)
        seen.setdefault(both, position)


def _coils(airplane: Airplane, network: LifeNetwork) -> Iterator[Remark]:
    reserve = on_battery(airplane, airplane.selector.reserve)
    fed = network.fed_coils(reserve)
    for link in airplane.links.values():
        coil = link.traits.coil
        if coil is not None and airplane.selector.reserve in link.closed_in and link.name not in fed:
            message = (
                f'"{link.name}" closes in "{airplane.selector.reserve}", and the {coil.bus} that holds it is'
                " dead there without generators; feed its coil from the battery's side"
            )
            yield error(airplane, link.name, message)


def _charging(airplane: Airplane) -> Iterator[Remark]:
    """In the reserve position nothing may lead back into a battery that is left alone for its heat."""
    reserve = replace(everything_works(airplane), position=airplane.selector.reserve)
    half = {each.name: BatteryState(0.5, each.celsius) for each in airplane.batteries}
    flow = Electric(airplane, Phase.CRUISE).solve(reserve, half)
    for battery in airplane.batteries:
        if flow.source_amps[battery.name] < -LEAST_AMPS:
            ways = [
                name
                for name, amps in flow.link_amps.items()
                if abs(amps) > LEAST_AMPS
                and battery.bus == (airplane.links[name].end if amps > 0 else airplane.links[name].start)
            ]
            message = (
                f'"{battery.name}": in "{airplane.selector.reserve}" generators still charge it through'
                f" {', '.join(ways) or 'its own bus'}: an overheating battery cannot be left alone there;"
                " open that way, or put a diode in it"
            )
            yield warning(airplane, battery.name, message)
