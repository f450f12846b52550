"""Airplane files: what is read, and what a mistake gets."""

import contextlib
from collections.abc import Callable
from dataclasses import astuple, replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from runner.airplane.load.airplane_load import load_airplane
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import LoadDrive, OwnBatteryDrive, Seat, Sense
from runner.airplane.model.source import Chemistry, Tolerance
from runner.airplane.model.wiring import Keep, Phase
from runner.errors import FileError

AirplaneOf = Callable[[str], Airplane]

MISTAKES = {
    "an unknown key": ("title:", "titel:", '1:1: unknown key "titel"; did you mean "title"?'),
    "a missing section": ("battery_warn_share: 0.1\n", "", '1:1: "battery_warn_share" is missing'),
    "an empty title": ("Quill 1, invented for tests", '""', "1:8: the value is empty"),
    "a key written twice": (
        "note: invented\n",
        "note: invented\nnote: again\n",
        '4:1: "note" is written twice',
    ),
    "broken YAML": ("positions: [", "positions: {[", "not YAML"),
    "a normal position that is none": (
        "normal: normal",
        "normal: norml",
        '7:11: selector: "norml" is not known here; did you mean "normal"?',
    ),
    "a reserve position that is the normal one": (
        "  reserve: reserve\n",
        "  reserve: normal\n",
        '9:12: selector: "normal" is the normal position as well',
    ),
    "a position listed twice": (
        '["off", normal, reserve]',
        '["off", normal, reserve, normal]',
        '6:39: selector: "normal" is listed twice',
    ),
    "a source of no kind": ("    kind: battery\n", "", '12:5: source "battery": "kind" is missing'),
    "a source of an unknown kind": (
        "kind: generator",
        "kind: generatr",
        'source "generator": "generatr" is not known here; did you mean "generator"?',
    ),
    "no battery": (
        "    kind: battery\n",
        "    kind: generator\n",
        'source "battery": unknown key "chemistry"',
    ),
    "no radio in the section": (
        "radios:\n  radio: {service: communication, load: radio}\n",
        "radios: {}\n",
        "there is no radio here; write at least one",
    ),
    "a duty over one in all phases": (
        "duty: {cruise: 0.5}",
        "duty: 1.5",
        '37:83: load "heater": 1.5 is too large; write 1 or less',
    ),
    "a source on no bus": (
        "bus: main bus, amps: 100",
        "bus: mian bus, amps: 100",
        '21:37: source "generator": "mian bus" is not known here; did you mean "main bus"?',
    ),
    "an unknown chemistry": (
        "chemistry: lead-acid",
        "chemistry: lead",
        '14:16: source "battery": "lead" is not known here; did you mean "lead-acid"?',
    ),
    "nickel-cadmium without the maker's table": (
        "chemistry: lead-acid",
        "chemistry: nickel-cadmium",
        '12:5: source "battery": "temperature" is missing',
    ),
    "half a cell": ("cells: 12", "cells: 12.5", "12.5 is not a whole number of cells"),
    "no capacity": (
        "ampere_hours: 30",
        "ampere_hours: 0",
        '16:19: source "battery": 0 is too small; write a number above 0',
    ),
    "capacity in words": ("ampere_hours: 30", "ampere_hours: thirty", '"thirty" is not a number'),
    "a number beyond all sense": (
        "ampere_hours: 30",
        "ampere_hours: 900000",
        "900000 is too large; write 100000 or less",
    ),
    "an exponent under one": ("peukert: 1.1", "peukert: 0.9", "0.9 is too small; write 1 or more"),
    "an exponent over two": ("peukert: 1.1", "peukert: 2.5", "2.5 is too large; write 2 or less"),
    "a date in another order": (
        "date: 2026-01-01",
        "date: 01.02.2026",
        '"01.02.2026" is not a date; write it as 2026-03-31',
    ),
    "a test without a date": (
        "{percent: 95, date: 2026-01-01}",
        "{percent: 95}",
        '20:13: source "battery": tested: "date" is missing',
    ),
    "an unknown tolerance": (
        "    peukert: 1.1\n",
        "    peukert: 1.1\n    tolerance: {volts: 3}\n",
        'tolerance: unknown key "volts"',
    ),
    "temperature rows out of order": (
        "    peukert: 1.1\n",
        "    peukert: 1.1\n    temperature: [{celsius: 20, share: 1}, {celsius: 0, share: 0.9}]\n",
        "0 does not follow 20; list the rows from cold to warm",
    ),
    "a share over one": (
        "    peukert: 1.1\n",
        "    peukert: 1.1\n    temperature: [{celsius: 20, share: 1.2}]\n",
        "1.2 is too large; write 1 or less",
    ),
    "a bus listed twice": (
        "[hot bus, main bus, reserve bus]",
        "[hot bus, main bus, hot bus]",
        '23:28: "hot bus" is listed twice',
    ),
    "no buses": ("[hot bus, main bus, reserve bus]", "[]", "23:8: the list is empty"),
    "a link with one end": (
        "joins: [hot bus, main bus]",
        "joins: [hot bus]",
        '25:39: link "battery relay": a link joins two buses, not 1; write [from, to]',
    ),
    "a link to no bus": (
        "joins: [main bus, reserve bus]",
        "joins: [main bus, reserv bus]",
        'link "reserve diode": "reserv bus" is not known here; did you mean "reserve bus"?',
    ),
    "a link of no kind": (
        "kind: diode",
        "kind: wirre",
        'link "reserve diode": "wirre" is not known here; did you mean "wire"?',
    ),
    "a link closed in no position": (
        "closed_in: normal",
        "closed_in: norml",
        '"norml" is not known here; did you mean "normal"?',
    ),
    "a breaker that is not on the panel": (
        "breaker: reserve feed",
        "breaker: reserve fed",
        '"reserve fed" is not known here; did you mean "reserve feed"?',
    ),
    "a breaker without a rating": (
        "  heat: 15",
        "  heat: big",
        '31:9: breaker "heat": "big" is not a number',
    ),
    "a breaker on two buses": (
        "breaker: heat, amps",
        "breaker: gyro, amps",
        'breaker "gyro" sits on the reserve bus already; name another breaker',
    ),
    "a load without a bus": (
        "{bus: reserve bus, amps: 1, ",
        "{amps: 1, ",
        'load "reading light": "bus" is missing; add "bus: ..."',
    ),
    "a load with a bus beside its feeds": (
        "  lamp:\n    feeds:",
        "  lamp:\n    bus: main bus\n    feeds:",
        'load "lamp": "bus" beside "feeds"; move it into the list',
    ),
    "a load with an unknown service": (
        "service: ice protection",
        "service: ice",
        'load "heater": "ice" is not known here',
    ),
    "a load with less surge than steady current": (
        "surge: 5",
        "surge: 1",
        "a surge of 1 is below the steady 2 amps; write the larger figure",
    ),
    "a duty over one": (
        "{cruise: 0.5}",
        "{cruise: 1.5}",
        '37:92: load "heater": duty: 1.5 is too large; write 1 or less',
    ),
    "a duty in an unknown phase": ("{cruise: 0.5}", "{climb: 0.5}", 'duty: unknown key "climb"'),
    "an unknown keep": ("keep: spare", "keep: spar", '"spar" is not known here; did you mean "spare"?'),
    "an instrument at no seat": (
        "seat: left,",
        "seat: lft,",
        '45:19: instrument "horizon": "lft" is not known here; did you mean "left"?',
    ),
    "an instrument with an unknown sense": (
        "senses: volts",
        "senses: volt",
        'instrument "meter": "volt" is not known here; did you mean "volts"?',
    ),
    "an instrument on no load": (
        "{loads: gyro supply}}\n  spare",
        "{loads: gyro suply}}\n  spare",
        '"gyro suply" is not known here; did you mean "gyro supply"?',
    ),
    "an instrument on no pump": ("{vacuum: air pump}", "{vacuum: pump}", '"pump" is not known here'),
    "a drive of two powers": (
        "{vacuum: air pump}",
        "{vacuum: air pump, own_battery_minutes: 3}",
        "2 powers in one entry; write one of loads, own_battery_minutes, vacuum, air, itself in each",
    ),
    "a drive that is none": (
        "driven_by: itself}\n      digits",
        "driven_by: vacuum}\n      digits",
        '"vacuum" drives nothing; write air, itself, or {loads: ...} and the like',
    ),
    "one part only": (
        "      digits: {senses: engine, driven_by: {loads: heater}}\n",
        "",
        "an instrument in parts has at least two",
    ),
    "a sense beside parts": (
        "    seat: centre\n    parts:",
        "    seat: centre\n    senses: engine\n    parts:",
        '"senses" beside "parts"; move it into each part',
    ),
    "an instrument without a sense": ("senses: volts, ", "", 'instrument "meter": "senses" is missing'),
    "an instrument named like a load": (
        "  horizon: {",
        "  radio: {",
        'the name "radio" is taken already; use another',
    ),
    "a gyro whose limit is before its advice": (
        "limit_seconds: 60",
        "limit_seconds: 30",
        "the limit of 30 s is not after the advise time of 30 s; raise it",
    ),
    "a gyro on no load": (
        "gyro: {load: gyro supply",
        "gyro: {load: gyro",
        'gyro "gyro": "gyro" is not known here; did you mean "gyro supply"?',
    ),
    "a lamp without a bulb": ("bulbs: [left, right]", "bulbs: []", 'lamp "lamp": the list is empty'),
    "a dimmer that may be": ("dimmer: true", "dimmer: yes", '"yes" is neither "true" nor "false"'),
    "a radio for something else": (
        "{service: communication, load: radio}",
        "{service: attitude, load: radio}",
        'radio "radio": "attitude" is not known here; write one of: communication, navigation',
    ),
    "a band upside down": (
        "pass: [24.5, 26.0]",
        "pass: [26.0, 24.5]",
        "62:19: voltmeter: at_rest: band 26.0 to 24.5 is upside down; write [24.5, 26.0]",
    ),
    "a band with one end": (
        "pass: [24.5, 26.0]",
        "pass: [24.5]",
        "a band has two ends, not 1; write [low, high]",
    ),
    "a caution band inside the pass band": (
        "caution: [22.0, 26.0]",
        "caution: [24.0, 26.0]",
        "the caution band does not hold the pass band; widen it",
    ),
    "a voltmeter that is none": (
        "instrument: meter",
        "instrument: metre",
        '60:15: voltmeter: "metre" is not known here; did you mean "meter"?',
    ),
    "an unknown name on the panel": (
        "[radio, horizon, gauge digits]",
        "[radio, horizon, gauge didgits]",
        '64:25: "gauge didgits" is not known here; did you mean "gauge digits"?',
    ),
    "a warning share over one": (
        "battery_warn_share: 0.1",
        "battery_warn_share: 10",
        "65:21: 10 is too large; write 1 or less",
    ),
    "a negative phase": (
        "recognise_minutes: 5",
        "recognise_minutes: -5",
        "68:22: endurance: -5 is too small; write 0 or more",
    ),
    "a phase in no position": (
        "  approach_minutes: 10\n",
        "  approach_minutes: 10\n  positions: {cruise: minimum}\n",
        'endurance: "minimum" is not known here',
    ),
}


@pytest.mark.parametrize(("old", "new", "message"), MISTAKES.values(), ids=MISTAKES.keys())
def test_a_mistake_gets_its_place_and_its_cure(
    airplane_of: AirplaneOf, small_yaml: str, old: str, new: str, message: str
) -> None:
    """Each kind of mistake is named with file, line, column, and what to write instead."""
    assert small_yaml.count(old) >= 1
    with pytest.raises(FileError) as caught:
        airplane_of(small_yaml.replace(old, new, 1))
    assert str(caught.value).startswith("quill.yaml:")
    assert message in str(caught.value)


OPTIONAL = "    peukert: 1.1\n"
EDGES = {
    "cells": ("cells: 12", "cells: {}", "1", "0"),
    "rating": ("ampere_hours: 30", "ampere_hours: {}", "100000", "100000.1"),
    "least exponent": ("peukert: 1.1", "peukert: {}", "1", "0.99"),
    "largest exponent": ("peukert: 1.1", "peukert: {}", "2", "2.01"),
    "fade": (OPTIONAL, OPTIONAL + "    fade_percent_per_year: {}\n", "100", "100.1"),
    "charge": (OPTIONAL, OPTIONAL + "    charge_percent: {}\n", "100", "100.1"),
    "coldest": (OPTIONAL, OPTIONAL + "    celsius: {}\n", "-60", "-60.1"),
    "warmest": (OPTIONAL, OPTIONAL + "    celsius: {}\n", "80", "80.1"),
    "test": ("percent: 95", "percent: {}", "150", "150.1"),
    "coldest row": (OPTIONAL, OPTIONAL + "    temperature: [{{celsius: {}, share: 1}}]\n", "-60", "-60.1"),
    "warmest row": (OPTIONAL, OPTIONAL + "    temperature: [{{celsius: {}, share: 1}}]\n", "80", "80.1"),
    "share": (OPTIONAL, OPTIONAL + "    temperature: [{{celsius: 0, share: {}}}]\n", "1", "1.01"),
    "tolerance": (OPTIONAL, OPTIONAL + "    tolerance: {{amps_percent: {}}}\n", "50", "50.1"),
    "least tolerance": (OPTIONAL, OPTIONAL + "    tolerance: {{celsius: {}}}\n", "0", "-0.1"),
}


@pytest.mark.parametrize("edge", EDGES.values(), ids=EDGES.keys())
def test_a_battery_s_bounds_are_included_and_nothing_beyond_them(
    airplane_of: AirplaneOf, small_yaml: str, edge: tuple[str, str, str, str]
) -> None:
    """The last figure that is taken, and the next one that is not."""
    old, new, within, beyond = edge
    airplane_of(small_yaml.replace(old, new.format(within), 1))
    with pytest.raises(FileError, match=r"is too (small|large)"):
        airplane_of(small_yaml.replace(old, new.format(beyond), 1))


def test_two_rows_for_one_temperature_are_refused(airplane_of: AirplaneOf, small_yaml: str) -> None:
    """The rows rise from cold to warm."""
    rows = "    temperature: [{celsius: 0, share: 0.8}, {celsius: 0, share: 0.9}]\n"
    with pytest.raises(FileError, match="0 does not follow 0; list the rows from cold to warm"):
        airplane_of(small_yaml.replace(OPTIONAL, OPTIONAL + rows, 1))


def test_what_a_battery_leaves_out_has_its_usual_value(airplane_of: AirplaneOf, small_yaml: str) -> None:
    """A full battery at 25 degrees that does not fade, waste or know of the cold; tolerances of its own."""
    battery = airplane_of(small_yaml.replace(OPTIONAL, "", 1)).battery
    assert (battery.peukert, battery.fade_percent_per_year, battery.charge_percent) == (1.0, 0.0, 100.0)
    assert (battery.celsius, battery.temperature_shares) == (25.0, ())
    assert astuple(battery.tolerance) == (5.0, 10.0, 5.0, 5.0)


@pytest.mark.parametrize("key", ["capacity_percent", "amps_percent", "charge_percent", "celsius"])
def test_each_tolerance_is_read_by_its_own_name(airplane_of: AirplaneOf, small_yaml: str, key: str) -> None:
    """The others keep their usual value."""
    words = f"{OPTIONAL}    tolerance: {{{key}: 1.5}}\n"
    battery = airplane_of(small_yaml.replace(OPTIONAL, words, 1)).battery
    assert battery.tolerance == replace(Tolerance(), **{key: 1.5})


@given(data=st.data())
def test_no_damage_to_a_file_raises_anything_else(
    airplane_of: AirplaneOf, small_yaml: str, data: st.DataObject
) -> None:
    """Lines lost, doubled or overwritten with odd values: an airplane or a FileError, never a traceback."""
    lines = small_yaml.splitlines()
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(lines) - 1))
        key = lines[at].partition(":")[0]
        odd = data.draw(
            st.sampled_from(
                ("", "[]", "{}", "[a, a]", "{a: b}", "-1", "1e400", "NaN", "{x: [1", "~", "&a *a")
            )
        )
        lines[at : at + 1] = data.draw(st.sampled_from(([], [lines[at]] * 2, [f"{key}: {odd}"])))
    with contextlib.suppress(FileError):
        airplane_of("\n".join(lines))


def test_a_missing_file_is_a_file_error(tmp_path: Path) -> None:
    """A file that is not there is reported as any other mistake in a file."""
    with pytest.raises(FileError, match="there is no such file"):
        load_airplane(tmp_path / "none.yaml")


def test_the_small_airplane_is_read_whole(small: Airplane) -> None:
    """Every section arrives with its units and defaults."""
    assert small.name == "quill"
    assert small.battery.chemistry is Chemistry.LEAD_ACID
    assert small.loads["heater"].duty == {phase: 0.5 if phase is Phase.CRUISE else 1.0 for phase in Phase}
    assert small.loads["heater"].surge_amps == 10
    assert small.loads["heater"].keep is Keep.WANT
    assert [feed.bus for feed in small.loads["lamp"].feeds] == ["main bus", "reserve bus"]
    assert small.instruments["horizon"].seat is Seat.LEFT
    assert small.instruments["horizon"].parts[0].drives == (LoadDrive(("gyro supply",)),)
    assert small.links["reserve diode"].closed_in == frozenset(small.selector.positions)
    assert small.endurance.positions[Phase.RECOGNISE] == "normal"
    assert small.places["heater"].line == 37
    assert small.panel_rank("horizon") == 1
    assert small.panel_rank("meter") == 3


def test_a_duty_may_be_one_share_for_all_phases(airplane_of: AirplaneOf, small_yaml: str) -> None:
    """And a section of what an airplane has none of may be left out."""
    words = small_yaml.replace("duty: {cruise: 0.5}", "duty: 0.25").replace(
        "radios:\n  radio: {service: communication, load: radio}\n", ""
    )
    airplane = airplane_of(words)
    assert airplane.loads["heater"].duty == dict.fromkeys(Phase, 0.25)
    assert airplane.radios == {}


def test_a_shipped_airplane_says_that_it_is_invented(shipped: Airplane) -> None:
    """Demonstration data names itself as such, in its title and its note."""
    assert "invented" in shipped.title
    assert "nvented" in shipped.note
    assert shipped.registration.startswith("QQ-")


def test_a_shipped_airplane_times_two_gyros_and_has_a_radio_fit_of_its_own(shipped: Airplane) -> None:
    """Each has what a check with every kind of item needs."""
    assert len(shipped.gyros) >= 2
    assert any(radio.differs for radio in shipped.radios.values())
    assert any(len(lamp.bulbs) > 1 and lamp.has_dimmer for lamp in shipped.lamps.values())
    assert any(len(instrument.parts) > 1 for instrument in shipped.instruments.values())


def test_the_shipped_airplanes_differ_in_more_than_their_names(merlow: Airplane, tarn: Airplane) -> None:
    """Selectors, chemistry, buses and gyro limits differ."""
    assert set(merlow.selector.positions) & set(tarn.selector.positions) == {"off"}
    assert merlow.battery.chemistry is not tarn.battery.chemistry
    assert not set(merlow.links) & set(tarn.links)
    limits = [{gyro.limit_seconds for gyro in each.gyros.values()} for each in (merlow, tarn)]
    assert not limits[0] & limits[1]


def test_a_standby_instrument_prefers_the_bus_to_its_own_battery(merlow: Airplane) -> None:
    """Drives keep the order of the file."""
    part = merlow.instruments["left turn indicator"].parts[0]
    assert part.senses == (Sense.TURN,)
    assert [type(drive) for drive in part.drives] == [LoadDrive, OwnBatteryDrive]
