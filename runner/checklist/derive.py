"""Derives a first-flight check from an airplane: a text that loads and agrees with it, ready to be edited."""

from collections.abc import Iterator

from runner.airplane.bus import Network
from runner.airplane.life import Life
from runner.airplane.model import Airplane
from runner.airplane.wiring import Phase
from runner.checklist.living import clock_items, living_items
from runner.checklist.panel import Panel, reserve_panel, started
from runner.checklist.phrase import phrase_of
from runner.checklist.scene import parked_lives
from runner.checklist.shape import MOST_ITEMS
from runner.checklist.sheet import Entry, Part, write_sheet
from runner.checklist.volts import after_bands, volts_item
from runner.checklist.witness import SWITCHED, witness_item, witnesses

REMARK = (
    "Derived from airplanes/{name}.yaml. Read it against the flight manual, then make its words your own:",
    "challenges as the panel is labelled, answers as they are seen, a reason that teaches.",
)


def derive(airplane: Airplane) -> str:
    """The YAML text of the check."""
    panel = reserve_panel(airplane)
    head = {
        "check": f"{airplane.title}: {airplane.selector.reserve}, before the first flight of the day",
        "airplane": airplane.name,
        "cautions": _cautions(panel),
    }
    return write_sheet((line.format(name=airplane.name) for line in REMARK), head, _parts(panel))


def _cautions(panel: Panel) -> list[str]:
    drawn = Network(panel.airplane, Phase.CHECK).solve(panel.view.situation).source_amps
    amps = drawn[panel.airplane.battery.name]
    cautions = [
        "For use on the ground only. The flight manual, the placards and the pilot in command decide.",
        "Engines stopped, propeller and inlet areas clear, ground power unplugged.",
        f"This check drains the battery, by about {amps:.0f} amperes while the selector is away.",
        "Touch each switch and point at each instrument before you answer.",
    ]
    if any("heat" in load.name.lower().split() for load in witnesses(panel)):
        cautions.append("A heater burns. Feel it with the back of the hand, and never grip it.")
    return cautions


def _parts(panel: Panel) -> Iterator[Part]:
    reserve = panel.airplane.selector.reserve
    starter = f"{reserve} selected"
    yield Part(f"Before {reserve}", tuple(_before(panel)))
    yield Part(f"{started(reserve)} on", (*_selecting(panel, starter), *clock_items(panel, starter)))
    yield from _chunks("Must live", living_items(panel))
    yield from _chunks("Must stay dead", tuple(witness_item(load) for load in witnesses(panel)))
    yield from _switches(panel)
    yield Part("Restore", tuple(_restoring(panel)))


def _chunks(title: str, entries: tuple[Entry, ...]) -> Iterator[Part]:
    """Sections of ten items or fewer; the second is called so."""
    for start in range(0, len(entries), MOST_ITEMS):
        number = f", part {start // MOST_ITEMS + 1}" if start else ""
        yield Part(f"{title}{number}", entries[start : start + MOST_ITEMS])


def _before(panel: Panel) -> Iterator[Entry]:
    airplane = panel.airplane
    yield {
        "item": "ground power plug",
        "challenge": "Ground power",
        "why": "With a cart plugged in, the cart would carry the buses and the check would prove nothing.",
        "critical": True,
        "state": {"unplugged": "pass", "still connected": "squawk"},
    }
    if _reads_parked(airplane):
        why = "The rested voltage is the line from which the sag under load is measured."
        entry = volts_item(
            airplane, "volts at rest", "Battery volts at rest", why, airplane.voltmeter.at_rest
        )
        yield {**entry, "critical": True}
    for radio in airplane.radios.values():
        if radio.differs:
            yield {
                "item": f"{radio.name} fit",
                "challenge": f"{started(radio.name)}, as its file describes it",
                "why": radio.differs,
                "state": {"fitted as described": "pass", "something else": "squawk"},
            }


def _selecting(panel: Panel, starter: str) -> Iterator[Entry]:
    airplane, selector = panel.airplane, panel.airplane.selector
    yield {
        "item": starter,
        "challenge": f"{started(selector.name)} to {selector.reserve}",
        "why": "From now on the battery alone carries what is left, and the gyro clocks run.",
        "critical": True,
        "action": f"{phrase_of(selector.reserve)} selected",
        "selects": selector.reserve,
    }
    why = "A tired battery looks well at rest and sags as soon as something draws from it."
    entry = volts_item(airplane, "volts under load", "Volts under load", why, airplane.voltmeter.on_reserve)
    yield {**entry, "critical": True}


def _switches(panel: Panel) -> Iterator[Part]:
    """What was switched on to see it dead is switched off before the selector moves."""
    on = [load.name for load in witnesses(panel) if load.service in SWITCHED]
    if on:
        entry: Entry = {
            "item": "switches off",
            "challenge": f"Switches off: {', '.join(on)}",
            "why": "Left on, they come alive with the main bus, and a hot probe burns the next hand.",
            "critical": True,
            "looks": True,
            "action": "all switches off",
        }
        yield Part("Switches", (entry,))


def _restoring(panel: Panel) -> Iterator[Entry]:
    airplane, selector = panel.airplane, panel.airplane.selector
    yield {
        "item": "selector restored",
        "challenge": f"{started(selector.name)} back to {selector.parked}",
        "why": f"A selector left in {selector.reserve} flattens the battery before the engines start.",
        "looks": True,
        "restores": True,
        "selects": selector.parked,
        "action": f"selector {phrase_of(selector.parked)}",
    }
    if _reads_parked(airplane):
        why = "How far it has come back says how much this check has cost."
        bands = after_bands(airplane.voltmeter.at_rest)
        yield volts_item(airplane, "volts after", "Battery volts, at rest again", why, bands)
    yield {
        "item": "complete",
        "challenge": "Your call",
        "why": "The call ends the check for everybody who heard it begin.",
        "call": f"{phrase_of(selector.reserve)} check complete",
    }


def _reads_parked(airplane: Airplane) -> bool:
    """Whether the voltmeter works before the selector moves."""
    return parked_lives(airplane)[airplane.voltmeter.name] is Life.ALIVE
