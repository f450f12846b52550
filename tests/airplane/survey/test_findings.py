"""Lint of the airplane: each finding by the edit that brings it about, with its place."""

from collections.abc import Callable

import pytest

from runner.airplane.model.airplane import Airplane
from runner.airplane.survey.findings import remarks

AirplaneOf = Callable[[str], Airplane]

EDITS = {
    "cells that no generator can charge": (
        "cells: 12",
        "cells: 14",
        'error: "battery": 28 V of "generator" are 2.00 V on each of 14 lead-acid cells',
    ),
    "a battery that nothing charges": (
        "battery relay: {kind: relay, joins: [hot bus, main bus], closed_in: normal}",
        "battery relay: {kind: diode, joins: [hot bus, main bus], closed_in: normal}",
        'warning: "battery": in "normal" no generator reaches the hot bus',
    ),
    "a load over its breaker": (
        "breaker: radio, amps: 3",
        "breaker: radio, amps: 10",
        'error: breaker "radio" is 5 A, and behind it draw 10.5 A (radio, lamp)',
    ),
    "a start that opens its breaker": (
        "amps: 2, surge: 5",
        "amps: 2, surge: 60",
        'warning: breaker "gyro" of 5 A opens while "gyro supply" starts with 60 A',
    ),
    "a breaker over its link": (
        "closed_in: reserve, breaker: reserve feed",
        "closed_in: reserve, rating: 15, breaker: reserve feed",
        'error: "reserve relay" bears 15 A, and its breaker "reserve feed" opens at 20: the link goes first',
    ),
    "a generator over 80 % in one phase only": (
        "amps: 100, volts: 28",
        "amps: 20, volts: 28",
        'warning: "generator" carries 16 A of 20 in recognise with every source working: over 80 %',
    ),
    "an unfed bus": (
        "battery relay: {kind: relay, joins: [hot bus, main bus], closed_in: normal}",
        "reserve tie: {kind: diode, joins: [lonely bus, reserve bus]}",
        'error: no source reaches the "lonely bus" in any position',
    ),
    "a position that changes nothing": (
        '["off", normal, reserve]',
        '["off", normal, reserve, storage]',
        'warning: the bus selector at "storage" does the same as at "off"',
    ),
    "a reserve whose relay hangs on what is lost": (
        "closed_in: reserve, breaker",
        "closed_in: reserve, coil: {bus: main bus, drop_out_volts: 9}, breaker",
        'error: "reserve relay" closes in "reserve", and the main bus that holds it is dead there',
    ),
    "a tie that leads back to the battery": (
        "title:",
        "title:",
        'warning: "battery": in "reserve" generators still charge it through reserve relay',
    ),
    "an own battery without a test": (
        "{vacuum: air pump}",
        "{own_battery_minutes: 30}",
        'warning: "spare horizon": nobody has written when its own battery last gave its 30 min',
    ),
    "an own battery without a charger": (
        "{vacuum: air pump}",
        "{own_battery_minutes: 30, tested: 2026-01-01}",
        'warning: "spare horizon": no load charges its own battery',
    ),
    "a row of (d) missing": (
        "title:",
        "title:",
        'warning: 91.205(d)(4) asks for "slip-skid indicator"',
    ),
    "a row of (b) missing": (
        "title:",
        "title:",
        'warning: 91.205(b)(9) asks for "fuel gauge for each tank"',
    ),
    "no turn indicator": (
        "title:",
        "title:",
        '91.205(d)(3) asks for "gyroscopic rate-of-turn',
    ),
    "the exception of (d)(3)": (
        "  meter: {",
        "  third horizon: {seat: centre, senses: attitude, driven_by: itself}\n  meter: {",
        "91.205(d)(3): no rate-of-turn indicator; 3 attitude instruments excuse it only if the third",
    ),
}


@pytest.mark.parametrize(("old", "new", "told"), EDITS.values(), ids=EDITS.keys())
def test_each_doubt_is_told_with_its_place(
    small_yaml: str, airplane_of: AirplaneOf, old: str, new: str, told: str
) -> None:
    """What, where and what to write instead."""
    words = small_yaml.replace(old, new, 1)
    if "lonely bus" in new:
        words = words.replace(
            "[hot bus, main bus, reserve bus]", "[hot bus, main bus, reserve bus, lonely bus]"
        )
    found = [str(each) for each in remarks(airplane_of(words))]
    (match,) = [line for line in found if told in line]
    assert match.startswith("quill.yaml:")
    assert all(number.isdigit() for number in match.split(":")[1:3])


def test_all_are_told_at_once_in_the_order_of_the_file(small: Airplane) -> None:
    """By line, and none twice."""
    found = remarks(small)
    assert len(found) >= 5
    assert [each.place.line for each in found] == sorted(each.place.line for each in found)
    assert len(set(found)) == len(found)


def test_no_shipped_airplane_has_an_error(shipped: Airplane) -> None:
    """Warnings may stand: they are judgements that a demonstration shows."""
    assert [str(each) for each in remarks(shipped) if each.is_error] == []


def test_a_generator_that_is_large_enough_is_not_told(merlow: Airplane) -> None:
    """250 A against 190 A with the other one lost: 76 %."""
    assert not [each for each in remarks(merlow) if "80 %" in each.message]
