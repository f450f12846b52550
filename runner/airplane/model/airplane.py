"""An airplane as data: one tail's sources, wiring, loads and instruments. Frozen, look-ups only."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from runner.airplane.electric.trait import Switch
from runner.airplane.electric.trip import DEFAULT_TRIP, TripCurve
from runner.airplane.model.instrument import Gyro, Instrument, Lamp, Radio, Voltmeter
from runner.airplane.model.source import Battery, Source
from runner.airplane.model.wiring import Link, Load, Phase, Selector
from runner.errors import Place


@dataclass(frozen=True, slots=True)
class EndurancePlan:
    """How a flight on the battery is reckoned."""

    required_minutes: float
    """What the rule or the manual asks for, recognition included."""
    recognise_minutes: float
    """From the failure until the selector is moved and loads are shed."""
    approach_minutes: float
    positions: Mapping[Phase, str]
    """The selector's position in each phase of the flight."""


@dataclass(frozen=True, slots=True)
class Airplane:
    """One tail, as its file describes it."""

    name: str
    """The file's stem, as typed after `eyesout bus`."""
    title: str
    registration: str
    path: Path
    note: str
    selector: Selector
    sources: Mapping[str, Source]
    pumps: tuple[str, ...]
    """Vacuum pumps; they can be lost like any source."""
    buses: tuple[str, ...]
    links: Mapping[str, Link]
    breakers: Mapping[str, float]
    """Rating of each breaker, amperes."""
    loads: Mapping[str, Load]
    instruments: Mapping[str, Instrument]
    gyros: Mapping[str, Gyro]
    lamps: Mapping[str, Lamp]
    radios: Mapping[str, Radio]
    voltmeter: Voltmeter
    panel: tuple[str, ...]
    """Loads and instruments in the order in which eyes and hands pass over the panel."""
    battery_warn_share: float
    """Share of the usable ampere-hours at which a check warns, 0 to 1."""
    endurance: EndurancePlan
    places: Mapping[str, Place]
    """Where each named thing stands in the file."""
    rated_volts: float = 28.0
    """At which loads draw their amps: about a generator's."""
    switches: Mapping[str, Switch] = field(default_factory=dict)
    """Switches that move links, beside the selector."""
    trip_curve: TripCurve = DEFAULT_TRIP
    """How long every breaker bears a current over its rating."""

    @property
    def battery(self) -> Battery:
        """The battery that checks read and endurance is reckoned with: the first of the file."""
        return self.batteries[0]

    @property
    def batteries(self) -> tuple[Battery, ...]:
        """Every battery, in the order of the file; there is at least one."""
        return tuple(source for source in self.sources.values() if isinstance(source, Battery))

    @property
    def other_sources(self) -> frozenset[str]:
        """Generators and ground power: everything that is lost when batteries are alone."""
        return frozenset(self.sources) - {battery.name for battery in self.batteries}

    def panel_rank(self, name: str) -> int:
        """Position in the panel order; whatever is not listed comes after all that is."""
        return self.panel.index(name) if name in self.panel else len(self.panel)
