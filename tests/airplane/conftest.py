"""Airplanes for the tests: the two shipped ones, and a small one to be taken apart."""

from collections.abc import Callable
from pathlib import Path

import pytest

from runner.airplane.load.airplane_load import load_airplane, read_airplane
from runner.airplane.model.airplane import Airplane
from runner.document import parse_document

AIRPLANES = Path(__file__).parents[2] / "checklists" / "airplanes"

SMALL = """\
title: Quill 1, invented for tests
registration: QQ-Q1
note: invented
selector:
  name: bus selector
  positions: ["off", normal, reserve]
  normal: normal
  parked: "off"
  reserve: reserve
sources:
  battery:
    kind: battery
    bus: hot bus
    chemistry: lead-acid
    cells: 12
    ampere_hours: 30
    hour_rate: 1
    end_volts: 20
    peukert: 1.1
    tested: {percent: 95, date: 2026-01-01}
  generator: {kind: generator, bus: main bus, amps: 100, volts: 28}
pumps: [air pump]
buses: [hot bus, main bus, reserve bus]
links:
  battery relay: {kind: relay, joins: [hot bus, main bus], closed_in: normal}
  reserve relay: {kind: relay, joins: [hot bus, reserve bus], closed_in: reserve, breaker: reserve feed}
  reserve diode: {kind: diode, joins: [main bus, reserve bus]}
breakers:
  reserve feed: 20
  radio: 5
  heat: 15
  gyro: 5
loads:
  radio: {bus: reserve bus, breaker: radio, amps: 3, service: communication, keep: must}
  gyro supply: {bus: reserve bus, breaker: gyro, amps: 2, surge: 5, service: flight instrument}
  reading light: {bus: reserve bus, amps: 1, service: lighting, keep: spare}
  heater: {bus: main bus, breaker: heat, amps: 10, service: ice protection, duty: {cruise: 0.5}}
  lamp:
    feeds:
      - {bus: main bus}
      - {bus: reserve bus, breaker: radio}
    amps: 0.5
    service: lighting
instruments:
  horizon: {seat: left, senses: attitude, driven_by: {loads: gyro supply}}
  spare horizon: {seat: right, senses: attitude, driven_by: {vacuum: air pump}}
  gauge:
    seat: centre
    parts:
      needle: {senses: engine, driven_by: itself}
      digits: {senses: engine, driven_by: {loads: heater}}
  meter: {seat: centre, senses: volts, driven_by: itself}
gyros:
  gyro: {load: gyro supply, instrument: horizon, advise_seconds: 30, limit_seconds: 60}
lamps:
  lamp: {load: lamp, bulbs: [left, right], dimmer: true}
radios:
  radio: {service: communication, load: radio}
voltmeter:
  instrument: meter
  resolution: 0.1
  at_rest: {pass: [24.5, 26.0], caution: [24.0, 26.5]}
  on_reserve: {pass: [23.5, 25.5], caution: [22.0, 26.0]}
panel: [radio, horizon, gauge digits]
battery_warn_share: 0.1
endurance:
  required_minutes: 30
  recognise_minutes: 5
  approach_minutes: 10
"""


@pytest.fixture(scope="session")
def merlow() -> Airplane:
    """The shipped twin jet."""
    return load_airplane(AIRPLANES / "merlow-ml2.yaml")


@pytest.fixture(scope="session")
def tarn() -> Airplane:
    """The shipped turboprop."""
    return load_airplane(AIRPLANES / "tarn-qx83.yaml")


@pytest.fixture(params=["merlow-ml2", "tarn-qx83"])
def shipped(request: pytest.FixtureRequest) -> Airplane:
    """Each shipped airplane in turn."""
    return load_airplane(AIRPLANES / f"{request.param}.yaml")


@pytest.fixture(scope="session")
def small_yaml() -> str:
    """The small airplane's file."""
    return SMALL


@pytest.fixture(scope="session")
def airplane_of() -> Callable[[str], Airplane]:
    """Reads an airplane from YAML words."""
    return lambda words: read_airplane(parse_document(words, Path("quill.yaml")))


@pytest.fixture(scope="session")
def small(airplane_of: Callable[[str], Airplane]) -> Airplane:
    """The small airplane."""
    return airplane_of(SMALL)
