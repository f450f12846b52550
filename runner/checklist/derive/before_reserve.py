"""Derived items before the selector moves: what would hurt somebody, the rested battery, the tail's fit."""

from collections.abc import Iterator
from datetime import date

from runner.airplane.life.lively import Life
from runner.airplane.life.neighbour import loads_behind
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.source import Chemistry
from runner.airplane.model.wiring import Act, Phase, Service
from runner.checklist.derive.check_sheet import Entry
from runner.checklist.derive.panel import listed, started
from runner.checklist.derive.volts import bands_worth, volts_item
from runner.checklist.kind.dead import NOTHING
from runner.checklist.lint.coverage import duty_of
from runner.checklist.lint.scene import parked_lives

CHARGE = "Leave the power off. Have the battery charged."
HOTTEST = 57
"""Celsius from which a nickel-cadmium battery is left alone; from memory, the manual's figure governs."""


def safety_items(airplane: Airplane) -> Iterator[Entry]:
    """People, ground power, the gear handle, the temperature of a nickel-cadmium battery: each can stop."""
    yield {
        "item": "people",
        "challenge": "People near the airplane",
        "why": "A wrong switch wakes motors, heaters and propellers. Nobody may stand where that hurts.",
        "critical": True,
        "remedy": "Send everybody clear first.",
        "state": {"nobody near": "pass", "somebody there": "stop"},
    }
    yield {
        "item": "ground power plug",
        "challenge": "Ground power",
        "why": "With a cart plugged in, the cart would carry the buses and the check would prove nothing.",
        "critical": True,
        "remedy": "Have the cart unplugged.",
        "state": {"unplugged": "pass", "still connected": "stop"},
    }
    if any(_folds_gear(airplane)):
        yield {
            "item": "gear handle",
            "challenge": "Gear handle",
            "why": "With the handle up, the first power to its motor may fold the gear under you.",
            "critical": True,
            "remedy": "Leave the power off. Gear pins in, then handle down.",
            "state": {"handle down": "pass", "handle up": "stop"},
        }
    if airplane.battery.chemistry is Chemistry.NICKEL_CADMIUM:
        yield _temperature()


def before_items(airplane: Airplane, on: date) -> Iterator[Entry]:
    """All items before the selector moves, critical ones first."""
    yield from safety_items(airplane)
    if reads_parked(airplane):
        why = "The rested voltage is the line from which the sag under load is measured."
        bands = bands_worth(airplane, on, airplane.selector.parked, airplane.voltmeter.at_rest)
        entry = volts_item(airplane, "volts at rest", "Battery volts at rest", why, bands, remedy=CHARGE)
        yield {**entry, "critical": True}
    yield from _dark(airplane)
    yield from _hot(airplane)
    for radio in airplane.radios.values():
        if radio.differs:
            yield {
                "item": f"{radio.name} fit",
                "challenge": f"{started(radio.name)}, as its file describes it",
                "why": radio.differs,
                "state": {"fitted as described": "pass", "something else": "squawk"},
            }


def _hot(airplane: Airplane) -> Iterator[Entry]:
    """What the battery feeds day and night; its own breaker stands behind it."""
    lives = parked_lives(airplane)
    meter = loads_behind(airplane, airplane.voltmeter.name)
    for load in airplane.loads.values():
        is_shown = load.acts is None and load.duty[Phase.CHECK] > 0
        if is_shown and lives[load.name] is Life.ALIVE and load.name not in meter:
            on = f"{started(load.switch)} on, {load.name}" if load.switch else started(load.name)
            yield {
                "item": f"{load.name} at rest",
                "challenge": on,
                **({"moves": load.switch} if load.switch else {}),
                "why": "It hangs on the battery itself: dead, its breaker is out, and nothing else tells.",
                "state": {"is alive": "pass", "stays dead": "squawk"},
                "proves": load.name,
            }


def _dark(airplane: Airplane) -> Iterator[Entry]:
    """What only the reserve may wake: alive before, a relay is welded and drains the battery."""
    lives, woken = parked_lives(airplane), duty_of(airplane).loads
    first: dict[str, str] = {}
    for name in woken:
        load = airplane.loads[name]
        if load.switch is None and load.acts is None and lives[name] is Life.DEAD:
            first.setdefault(load.feeds[0].bus, name)
    if first:
        yield {
            "item": "dark before",
            "challenge": f"{started(' and '.join(first))}, everything off",
            "why": "Alive with everything off, a relay is welded, and the battery drains day and night.",
            "dead": {
                "loads": listed(tuple(first.values())),
                "on": NOTHING,
                "answers": {"stays dead": "pass", "came alive": "squawk"},
            },
        }


def reads_parked(airplane: Airplane) -> bool:
    """Whether the voltmeter works before the selector moves."""
    return parked_lives(airplane)[airplane.voltmeter.name] is Life.ALIVE


def _folds_gear(airplane: Airplane) -> Iterator[bool]:
    for load in airplane.loads.values():
        yield load.service is Service.GEAR and load.acts is Act.MOVES and "gear" in load.name.lower().split()


def _temperature() -> Entry:
    return {
        "item": "battery temperature",
        "challenge": "Battery temperature",
        "why": "A nickel-cadmium battery that is hot without a load may be running away. Let it cool.",
        "critical": True,
        "remedy": "Touch no switch. Have the battery cooled and looked at.",
        "reading": {
            "unit": "degrees",
            "resolution": 1,
            "pass": "-20 to 45",
            "caution": "-30 to 55",
            "plausible": "-40 to 90",
            "stop": f"above {HOTTEST}",
        },
    }
