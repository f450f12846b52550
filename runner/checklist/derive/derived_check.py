"""Derives a first-flight check from an airplane: a text that loads and agrees with it, ready to be edited."""

from collections.abc import Iterator
from datetime import date

from runner.airplane.life.life_network import LifeNetwork
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.wiring import Phase
from runner.checklist.derive.before_reserve import before_items, reads_parked
from runner.checklist.derive.check_sheet import Entry, SheetSection, write_sheet
from runner.checklist.derive.living import clock_items, lamps_first
from runner.checklist.derive.panel import Panel, listed, named, reserve_panel, started
from runner.checklist.derive.volts import bands_worth, moved_items, volts_item
from runner.checklist.derive.witness import (
    IN_ONE_BREATH,
    remainder_items,
    switched_items,
    witness_item,
    witnesses,
)
from runner.checklist.format.phrase import phrase_of
from runner.checklist.lint.shape import MOST_ITEMS

TIRED = "The battery cannot carry this. Have it charged or changed."
SOUNDS = {"selector": "S AH0 L EH1 K T ER0"}
"""What every derived check answers with and no dictionary has, in ARPAbet."""
REMARK = (
    "Derived from {name}.yaml. Read it against the flight manual, then make its words your own:",
    "challenges as the panel is labelled, answers as they are seen, a reason that teaches.",
)


def derive(airplane: Airplane, on: date | None = None, named_as: str = "") -> str:
    """The YAML text of the check, which names its airplane by its name or as it is `named_as`.

    Its bands are reckoned for a day: that of the last capacity test, or `on`.
    """
    day = on or airplane.battery.tested.on
    panel = reserve_panel(airplane)
    head = {
        "check": f"{airplane.title}: {airplane.selector.reserve}, before the first flight of the day",
        "airplane": named_as or airplane.name,
        "cautions": _cautions(panel),
        "pronounce": SOUNDS,
    }
    return write_sheet((line.format(name=airplane.name) for line in REMARK), head, _parts(panel, day))


def _cautions(panel: Panel) -> list[str]:
    drawn = LifeNetwork(panel.airplane, Phase.CHECK).solve(panel.view.situation).source_amps
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


def _parts(panel: Panel, on: date) -> Iterator[SheetSection]:
    reserve = panel.airplane.selector.reserve
    starter = f"{reserve} selected"
    before, (lamps, others) = tuple(before_items(panel.airplane, on)), lamps_first(panel)
    chosen = tuple(witness_item(load) for load in witnesses(panel))
    dead = (*chosen, *remainder_items(panel), *switched_items(panel))
    yield from _chunks(f"Before {reserve}", before)
    yield SheetSection(f"{started(reserve)} on", (_selecting(panel, starter), *clock_items(panel, starter)))
    yield from _chunks("Lamps", lamps)
    yield SheetSection("Under load", (_under_load(panel.airplane, on), *moved_items(panel.airplane, on)))
    yield from _chunks("Must live", others)
    yield from _chunks("Must stay dead", dead)
    yield from _chunks("Switches back", tuple(_switches((*before, *lamps, *others, *dead))))
    yield SheetSection("Restore", tuple(_restoring(panel, on)))


def _chunks(title: str, entries: tuple[Entry, ...]) -> Iterator[SheetSection]:
    """Sections of ten items or fewer; the second is called so."""
    for start in range(0, len(entries), MOST_ITEMS):
        number = f", part {start // MOST_ITEMS + 1}" if start else ""
        yield SheetSection(f"{title}{number}", entries[start : start + MOST_ITEMS])


def _selecting(panel: Panel, starter: str) -> Entry:
    selector = panel.airplane.selector
    return {
        "item": starter,
        "challenge": f"{started(selector.name)} to {selector.reserve}",
        "why": "From now on the battery alone carries what is left, and the gyro clocks run.",
        "critical": True,
        "action": f"{phrase_of(selector.reserve)} selected",
        "selects": selector.reserve,
    }


def _under_load(airplane: Airplane, on: date) -> Entry:
    """After the gyros have started and the lamps are on: a reading in the surge says nothing."""
    why = "A tired battery looks well at rest and sags under load. By now every surge is over."
    bands = bands_worth(airplane, on, airplane.selector.reserve, airplane.voltmeter.on_reserve)
    entry = volts_item(airplane, "volts under load", "Volts under load", why, bands, remedy=TIRED)
    return {**entry, "critical": True}


def _switches(entries: tuple[Entry, ...]) -> Iterator[Entry]:
    """What the items moved goes back before the selector does, last moved first, two in one breath."""
    moved = [switch for entry in reversed(entries) for switch in reversed(named(entry.get("moves", ())))]
    for start in range(0, len(moved), IN_ONE_BREATH):
        pair = moved[start : start + IN_ONE_BREATH]
        yield {
            "item": f"{' and '.join(pair)} off",
            "challenge": f"{started(' and '.join(pair))} off",
            "why": "Left on, they come alive with the main bus, or drain the battery unseen.",
            "returns": listed(pair),
            "looks": True,
            "action": "switched off" if len(pair) == 1 else "both switched off",
        }


def _restoring(panel: Panel, on: date) -> Iterator[Entry]:
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
    if reads_parked(airplane):
        why = "How far it has come back says how much this check has cost."
        bands = bands_worth(airplane, on, selector.parked, airplane.voltmeter.at_rest)
        yield volts_item(airplane, "volts after", "Battery volts, at rest again", why, bands)
    yield {
        "item": "complete",
        "challenge": "Your call",
        "why": "The call ends the check for everybody who heard it begin.",
        "call": f"{phrase_of(selector.reserve)} check complete",
    }
