"""Conductors and sources as the solver sees them: the ohms, drops and limits of an airplane."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import Final

from runner.airplane.electric.flow import BatteryState
from runner.airplane.electric.trait import (
    BREAKER_DROP_VOLTS,
    CONTACT_MILLIOHMS,
    DIODE_DROP_VOLTS,
    DIODE_MILLIOHMS,
    INVERTER_MILLIOHMS,
)
from runner.airplane.minutes.cell import ohms, open_volts
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.source import Battery, Generator, Source
from runner.airplane.model.wiring import Link, LinkKind

LEAST_OHMS: Final = 1e-4
"""Of an ideal battery, so that its current follows from volts."""
CHARGE_VOLTS_PER_CELL: Final = 0.25
"""Over its rest volts a battery takes its full charge current; ours."""
CHARGE_SHARE: Final = 0.2
"""Of its ampere-hours a battery takes at most while it is charged, when the file does not say; ours."""
CART_DROOP: Final = 0.01
"""Of its volts, by which ground power falls to its rating; ours."""
TAPER: Final = 0.2
"""The last share of charge, over which the charge current falls to nothing; ours."""
MILLIOHMS: Final = {LinkKind.DIODE: DIODE_MILLIOHMS, LinkKind.INVERTER: INVERTER_MILLIOHMS}


@dataclass(frozen=True, slots=True)
class Supply:
    """A source at one moment."""

    emf: float
    siemens: float
    limit: float
    charge_siemens: float = 1.0
    charge_limit: float = 0.0


@dataclass(frozen=True, slots=True)
class Conductor:
    """A link at any moment."""

    siemens: float
    drop: float
    is_one_way: bool


def conductor(airplane: Airplane, link: Link) -> Conductor:
    """What a closed link does to current, its breaker included."""
    own = link.traits.milliohms
    milliohms = MILLIOHMS.get(link.kind, CONTACT_MILLIOHMS) if own is None else own
    resistance = milliohms / 1000
    if link.breaker is not None:
        resistance += BREAKER_DROP_VOLTS / airplane.breakers[link.breaker]
    usual = DIODE_DROP_VOLTS if link.kind is LinkKind.DIODE else 0.0
    drop = usual if link.traits.drop_volts is None else link.traits.drop_volts
    return Conductor(1 / resistance, drop, link.is_one_way)


def supply(source: Source, state: BatteryState | None) -> Supply:
    """What a source gives; `state` is a battery's, and None for the others."""
    if isinstance(source, Battery):
        return _battery_supply(source, state or planned_state(source))
    droop, most = CART_DROOP, source.amps
    if isinstance(source, Generator):
        droop = source.droop_percent / 100
        most = source.amps if source.limit_amps is None else source.limit_amps
    return Supply(source.volts, source.amps / (droop * source.volts), most)


def planned_state(battery: Battery) -> BatteryState:
    """The charge and temperature that the airplane's file plans with."""
    return BatteryState(battery.charge_percent / 100, battery.celsius)


def charge_limit(battery: Battery, charge: float) -> float:
    """The most amperes that it takes at a charge of 0 to 1."""
    most = CHARGE_SHARE * battery.ampere_hours if battery.charge_amps is None else battery.charge_amps
    return most * min(1.0, max(0.0, (1 - charge) / TAPER))


def _battery_supply(battery: Battery, state: BatteryState) -> Supply:
    resistance = max(LEAST_OHMS, ohms(battery, state.charge, state.celsius))
    full = CHARGE_SHARE * battery.ampere_hours if battery.charge_amps is None else battery.charge_amps
    taking = full / (CHARGE_VOLTS_PER_CELL * battery.cells)
    return Supply(
        open_volts(battery, state.charge),
        1 / resistance,
        inf,
        max(taking, 1e-6),
        charge_limit(battery, state.charge),
    )
