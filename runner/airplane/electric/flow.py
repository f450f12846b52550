"""Flow: one situation of the airplane with its volts and amperes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from runner.airplane.life.life_network import Solution


@dataclass(frozen=True, slots=True)
class BatteryState:
    """How a battery is found."""

    charge: float
    """Of what it can hold, 0 to 1."""
    celsius: float


@dataclass(frozen=True, slots=True)
class Flow(Solution):
    """A solution whose currents follow from volts; a source's amperes are negative while it is charged."""

    volts: Mapping[str, float]
    """Of every bus: 0 when it is dead, alternating-current volts behind an inverter."""
    lost: Mapping[str, float]
    """Loads that have a live bus and dropped out for want of volts, with the volts that they had."""
    let_go: Mapping[str, float]
    """Relays and inverters that let go for want of volts, with the volts that they had."""
    inverter_watts: Mapping[str, float]
    """Given by each live inverter whose output is described."""
