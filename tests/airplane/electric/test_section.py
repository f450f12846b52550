"""The electrical keys of an airplane file: what is read, and what a mistake gets."""

import json
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest
import yaml

from runner.airplane.electric.trait import Coil, Draw, Output
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.source import Battery, Generator
from runner.errors import FileError

AirplaneOf = Callable[[str], Airplane]
SCHEMA = Path(__file__).parents[3] / "checklists" / "schema" / "airplane.schema.json"
VALIDATOR = jsonschema.Draft202012Validator(json.loads(SCHEMA.read_text("utf-8")))


@pytest.fixture
def rich_yaml(small_yaml: str) -> str:
    """The small airplane with every electrical key, each on a line of its own kind."""
    edits = {
        "    peukert: 1.1\n": "    peukert: 1.1\n    milliohms: 11\n    charge_amps: 9\n",
        "amps: 100, volts: 28}": "amps: 100, volts: 28, limit_amps: 110, droop_percent: 2}",
        "  generator: {": "  spare battery: {kind: battery, bus: reserve bus, chemistry: lead-acid, "
        "cells: 12, ampere_hours: 5, hour_rate: 1, end_volts: 20, tested: {percent: 90, date: 2026-01-01}}\n"
        "  generator: {",
        "kind: generator": "kind: alternator",
        "reserve bus]\nlinks:": "reserve bus, AC bus]\nswitches:\n"
        "  arm: {positions: [armed, safe], normal: armed, parked: safe}\n"
        "trip_curve: [{percent: 150, seconds: 600}, {percent: 300, seconds: 10}]\nrated_volts: 28\nlinks:",
        "closed_in: reserve, breaker": "closed_in: reserve, milliohms: 2, rating: 30,"
        " coil: {bus: hot bus, drop_out_volts: 9, amps: 0.3}, switched: {arm: armed}, breaker",
        "[main bus, reserve bus]}\nbreakers": "[main bus, reserve bus], drop_volts: 0.7}\n"
        "  set: {kind: inverter, joins: [reserve bus, AC bus], output: {volts: 115, efficiency: 0.8,"
        " idle_watts: 12, rated_watts: 250, drop_out_volts: 18}}\nbreakers",
        "amps: 3, service": "amps: 3, draws: power, drop_out_volts: 18, service",
    }
    for old, new in edits.items():
        assert old in small_yaml
        small_yaml = small_yaml.replace(old, new, 1)
    return small_yaml


def test_every_electrical_key_is_read(rich_yaml: str, airplane_of: AirplaneOf) -> None:
    """With its unit, at its place."""
    airplane = airplane_of(rich_yaml)
    battery, generator = airplane.sources["battery"], airplane.sources["generator"]
    assert isinstance(battery, Battery)
    assert (battery.milliohms, battery.charge_amps) == (11, 9)
    assert isinstance(generator, Generator)
    assert (generator.limit_amps, generator.droop_percent) == (110, 2)
    assert [each.name for each in airplane.batteries] == ["battery", "spare battery"]
    assert airplane.battery.name == "battery"
    relay, inverter = airplane.links["reserve relay"].traits, airplane.links["set"].traits
    assert (relay.milliohms, relay.rating, relay.coil) == (2, 30, Coil("hot bus", 9, 0.3))
    assert [(gate.switch.name, gate.closed_in) for gate in relay.gates] == [("arm", frozenset({"armed"}))]
    assert inverter.output == Output(115, 0.8, 12, 250, 18)
    assert airplane.links["reserve diode"].traits.drop_volts == 0.7
    assert airplane.loads["radio"].traits.draw is Draw.POWER
    assert airplane.loads["radio"].traits.drop_out_volts == 18
    assert airplane.trip_curve == ((150, 600), (300, 10))


def test_without_them_an_airplane_is_what_it_was(small: Airplane) -> None:
    """Constant currents, no drop-outs, and 28 V by a battery of twelve lead-acid cells."""
    assert {load.traits.draw for load in small.loads.values()} == {Draw.CURRENT}
    assert small.rated_volts == 28
    assert not small.switches


def test_a_battery_of_six_cells_makes_a_14_volt_airplane(small_yaml: str, airplane_of: AirplaneOf) -> None:
    """By the volts at which it is charged."""
    assert airplane_of(small_yaml.replace("cells: 12", "cells: 6")).rated_volts == 14


MISTAKES = {
    "ohms below nothing": ("milliohms: 11", "milliohms: -1", "-1 is too small; write 0 or more"),
    "a limit under the rating": (
        "limit_amps: 110",
        "limit_amps: 90",
        "a limit of 90 is below the rating of 100 amps; write the larger figure",
    ),
    "no droop": ("droop_percent: 2", "droop_percent: 0", "0 is too small; write 0.1 or more"),
    "no resistance at all": ("milliohms: 2,", "milliohms: 0,", "0 is too small; write 0.01 or more"),
    "a coil on no bus": ("{bus: hot bus, drop", "{bus: hat bus, drop", 'did you mean "hot bus"?'),
    "a coil that never lets go": (
        "coil: {bus: hot bus, drop_out_volts: 9, amps: 0.3}",
        "coil: {bus: hot bus}",
        'link "reserve relay": coil: "drop_out_volts" is missing',
    ),
    "a coil on a diode": (
        "drop_volts: 0.7",
        "coil: {bus: hot bus, drop_out_volts: 9}",
        '"coil" belongs to relays, and this is a diode; remove it',
    ),
    "a drop on a relay": ("rating: 30", "drop_volts: 0.7", '"drop_volts" belongs to diodes'),
    "an output on a relay": ("rating: 30", "output: {volts: 115}", '"output" belongs to inverters'),
    "a drop beyond any diode": ("drop_volts: 0.7", "drop_volts: 7", "7 is too large; write 3 or less"),
    "an inverter better than whole": (
        "efficiency: 0.8",
        "efficiency: 1.2",
        "1.2 is too large; write 1 or less",
    ),
    "an unknown switch": (
        "switched: {arm: armed}",
        "switched: {alarm: armed}",
        '"alarm" is no switch of this file; known: arm',
    ),
    "an unknown switch position": ("switched: {arm: armed}", "switched: {arm: on}", '"on" is not known here'),
    "no switch named": ("switched: {arm: armed}", "switched: {}", "no switch is named here"),
    "a switch of one position": (
        "positions: [armed, safe], normal: armed, parked: safe",
        "positions: [armed], normal: armed, parked: armed",
        "a switch has at least two positions; write the other",
    ),
    "a switch parked nowhere": ("parked: safe", "parked: away", 'switch "arm": "away" is not known here'),
    "trip rows out of order": (
        "{percent: 300",
        "{percent: 140",
        "140 does not follow 150; list the rows upward",
    ),
    "a trip that takes longer at more": (
        "seconds: 10}",
        "seconds: 900}",
        "900 s is no shorter than 600 s at less current; lower it",
    ),
    "a trip at its rating": ("{percent: 150", "{percent: 100", "100 is too small; write 101 or more"),
    "an unknown way to draw": ("draws: power", "draws: powr", 'did you mean "power"?'),
    "a floor below nothing": ("drop_out_volts: 18, serv", "drop_out_volts: -1, serv", "-1 is too small"),
    "no rated volts": ("rated_volts: 28", "rated_volts: 0", "0 is too small; write a number above 0"),
    "lithium without the maker's table": (
        "chemistry: lead-acid\n",
        "chemistry: lithium-iron-phosphate\n",
        '"temperature" is missing; add the maker\'s table, no general one serves lithium-iron-phosphate',
    ),
    "direct current fed into alternating": (
        "generator: {kind: alternator, bus: main bus",
        "generator: {kind: alternator, bus: AC bus",
        '"AC bus" is behind an inverter; "generator" gives direct current, put it elsewhere',
    ),
    "an inverter that feeds on alternating current": (
        "joins: [reserve bus, AC bus], output",
        "joins: [AC bus, AC bus], output",
        "listed twice",
    ),
    "a second inverter without its output": (
        "breakers:\n",
        "  other: {kind: inverter, joins: [hot bus, AC bus]}\nbreakers:\n",
        '"other": "AC bus" has alternating current; add "output: {volts: ...}" here too',
    ),
    "an inverter behind another": (
        "breakers:\n",
        "  other: {kind: inverter, joins: [AC bus, main bus]}\nbreakers:\n",
        '"other": "AC bus" is behind an inverter itself; feed it from direct current',
    ),
}


@pytest.mark.parametrize(("old", "new", "message"), MISTAKES.values(), ids=MISTAKES.keys())
def test_a_mistake_gets_its_place_and_its_cure(
    airplane_of: AirplaneOf, rich_yaml: str, old: str, new: str, message: str
) -> None:
    """Each kind of mistake is named with file, line, column, and what to write instead."""
    assert old in rich_yaml
    wrong = rich_yaml.replace(old, new, 1)
    with pytest.raises(FileError) as caught:
        airplane_of(wrong)
    place, _, told = str(caught.value).partition(": ")
    assert place.startswith("quill.yaml:")
    assert all(number.isdigit() for number in place.split(":")[1:])
    assert message in told


SEEN_BY_SCHEMA = (
    "ohms below nothing",
    "no droop",
    "no resistance at all",
    "a coil that never lets go",
    "a coil on a diode",
    "a drop on a relay",
    "an output on a relay",
    "a drop beyond any diode",
    "an inverter better than whole",
    "no switch named",
    "a switch of one position",
    "a trip at its rating",
    "an unknown way to draw",
    "a floor below nothing",
    "no rated volts",
    "lithium without the maker's table",
)


@pytest.mark.parametrize("name", SEEN_BY_SCHEMA)
def test_an_editor_underlines_what_the_command_refuses(rich_yaml: str, name: str) -> None:
    """By the JSON Schema, wherever it needs no look at another part of the file."""

    def fits(words: str) -> bool:
        return bool(VALIDATOR.is_valid(json.loads(json.dumps(yaml.safe_load(words), default=str))))

    old, new, _ = MISTAKES[name]
    assert fits(rich_yaml)
    assert not fits(rich_yaml.replace(old, new, 1))
