"""Facts for a check's battery line: what each selector position draws, and how much may be drawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.minutes.capacity import planned_conditions, usable
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.situation import on_battery
from runner.airplane.model.wiring import Phase


@dataclass(frozen=True, slots=True)
class ElectricalFacts:
    """The figures that a run needs of its airplane."""

    parked_position: str
    """Where the selector is found, and where the check must leave it."""
    battery_amps: Mapping[str, float]
    """Drawn from the battery alone in each selector position, loads at their duty in a check, amperes."""
    usable_ampere_hours: float
    warn_share: float


def electrical_facts(airplane: Airplane, on: date) -> ElectricalFacts:
    """The battery line's figures for a check on a given day."""
    network, battery = LifeNetwork(airplane, Phase.CHECK), airplane.battery
    amps = {
        position: network.solve(on_battery(airplane, position)).source_amps[battery.name]
        for position in airplane.selector.positions
    }
    given = usable(battery, planned_conditions(battery, on))
    return ElectricalFacts(airplane.selector.parked, amps, given.ampere_hours, airplane.battery_warn_share)
