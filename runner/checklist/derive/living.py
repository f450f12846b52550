"""Derived items for what must live: clocks, lamps, half-living instruments, then everything else."""

from collections.abc import Iterable, Iterator

from runner.airplane.life.lively import Life
from runner.airplane.life.path import path_to
from runner.airplane.model.instrument import Gyro, Instrument, Lamp, Sense
from runner.airplane.model.wiring import Keep, Service
from runner.checklist.derive.check_sheet import Entry
from runner.checklist.derive.panel import Panel, listed, started
from runner.checklist.format.phrase import phrase_of

ANSWERS = {
    Sense.COMMUNICATION: ("side tone heard", "nothing heard"),
    Sense.NAVIGATION: ("needle moves", "flag stays"),
    Sense.WARNING: ("every light on", "nothing came on"),
}
"""What is seen or heard of an instrument that lives, and of one that does not."""
PLAIN_ANSWERS = ("came alive", "stays dead")


def clock_items(panel: Panel, starter: str) -> Iterator[Entry]:
    """One clock for each gyro that the reserve wakes, in panel order."""
    for gyro in _gyros(panel):
        said, carried = phrase_of(gyro.name), carried_to(panel, gyro.load)
        yield {
            "item": f"{gyro.name} flag",
            "challenge": f"Call the {gyro.name} flag when it pulls",
            "why": "The flag pulled is what proves the gyro. A longer wait each month tells of its bearings.",
            "spin_up": {
                "gyro": gyro.name,
                "starts": starter,
                "advise": f"{gyro.advise_seconds:.0f} s",
                "limit": f"{gyro.limit_seconds:.0f} s",
                "ends": f"{said} flag pulled",
                "stuck": f"{said} still flagged",
            },
            **({"proves": listed(carried)} if carried else {}),
        }


def carried_to(panel: Panel, name: str) -> tuple[str, ...]:
    """Loads that only carry power on to this one, as an inverter's own draw: if this lives, so do they."""
    airplane, load = panel.airplane, panel.airplane.loads[name]
    steps = path_to(airplane, panel.view.situation, load).steps
    breakers = {airplane.links[step].breaker for step in steps if step in airplane.links} - {None}
    return tuple(
        other
        for other in panel.duty.loads
        if airplane.loads[other].service is Service.POWER
        and any(feed.breaker in breakers for feed in airplane.loads[other].feeds)
    )


def living_items(panel: Panel) -> tuple[Entry, ...]:
    """Items that prove every load that no clock proves: lamps, then the rest; critical ones first in both."""
    left = set(panel.duty.loads)
    for gyro in _gyros(panel):
        left -= {gyro.load, *carried_to(panel, gyro.load)}
    ranked: list[tuple[tuple[bool, bool, int], frozenset[str], Entry]] = []
    for name, loads, entry in _candidates(panel, left):
        is_critical = any(panel.airplane.loads[load].keep is Keep.MUST for load in loads)
        marked = {**entry, "critical": True} if is_critical else entry
        ranked.append(((not _is_lamp(panel, entry), not is_critical, panel.rank(name)), loads, marked))
    ordered = sorted(ranked, key=lambda each: each[0])
    return tuple(_switched_on(panel, ((loads, entry) for _, loads, entry in ordered)))


def lamps_first(panel: Panel) -> tuple[tuple[Entry, ...], tuple[Entry, ...]]:
    """The items of lamps, and those of everything else that must live."""
    items = living_items(panel)
    count = sum(_is_lamp(panel, entry) for entry in items)
    return items[:count], items[count:]


def _is_lamp(panel: Panel, entry: Entry) -> bool:
    return any(entry.get("proves") == lamp.load for lamp in panel.airplane.lamps.values())


def _switched_on(panel: Panel, items: Iterable[tuple[frozenset[str], Entry]]) -> Iterator[Entry]:
    """The first item that needs a switch moves it, and says so."""
    moved: set[str] = set()
    for loads, entry in items:
        switches = {name: way for name, way in _switches(panel, loads) if name not in moved}
        moved.update(switches)
        if switches:
            orders = " and ".join(f"{name} {way}" for name, way in switches.items())
            challenge = str(entry["challenge"])
            said = f"{started(orders)}, {challenge[:1].lower()}{challenge[1:]}"
            yield {**entry, "challenge": said, "moves": listed(switches)}
        else:
            yield entry


def _switches(panel: Panel, loads: frozenset[str]) -> Iterator[tuple[str, str]]:
    """The switches of the loads, and how each must stand."""
    dimmed = {lamp.load: lamp.name for lamp in panel.airplane.lamps.values() if lamp.has_dimmer}
    for name in sorted(loads):
        load = panel.airplane.loads[name]
        if name in dimmed:
            yield load.switch or f"{dimmed[name]} dimmer", "full up"
        elif load.switch is not None:
            yield load.switch, "on"


def _gyros(panel: Panel) -> list[Gyro]:
    woken = [gyro for gyro in panel.airplane.gyros.values() if gyro.load in panel.duty.loads]
    return sorted(woken, key=lambda gyro: (panel.rank(gyro.load), gyro.name))


def _candidates(panel: Panel, left: set[str]) -> Iterator[tuple[str, frozenset[str], Entry]]:
    """(name on the panel, loads proved, item); each load leaves `left` as soon as it is proved."""
    for lamp in panel.airplane.lamps.values():
        if lamp.load in left:
            left.discard(lamp.load)
            yield lamp.load, frozenset((lamp.load,)), _lamp(lamp)
    shown = sorted(panel.airplane.instruments.values(), key=lambda each: panel.airplane.panel_rank(each.name))
    for wanted in (Life.PARTIAL, Life.ALIVE):
        for instrument in shown:
            proved = panel.proved_by(instrument)
            if panel.life(instrument) is wanted and proved & left:
                left -= proved
                yield instrument.name, proved, _instrument(panel, instrument, wanted)
    for load in sorted(left):
        yield load, frozenset((load,)), _load(panel, load)


def _lamp(lamp: Lamp) -> Entry:
    if len(lamp.bulbs) == 1:
        answers = {"lamp lit": "pass", "lamp dark": "squawk"}
    else:
        whole = "both lit" if len(lamp.bulbs) == 2 else "all lit"  # noqa: PLR2004 - a pair is both
        out = {f"{phrase_of(bulb)} out": "squawk" for bulb in lamp.bulbs}
        answers = {whole: "pass", **out, "no light at all": "squawk"}
    return {
        "item": lamp.name,
        "challenge": started(lamp.name),
        "why": "Each lamp is looked at by itself: one that is out is seen only when the others are dark too.",
        "state": answers,
        "proves": lamp.load,
    }


def _instrument(panel: Panel, instrument: Instrument, life: Life) -> Entry:
    head = {"item": instrument.name, "challenge": started(instrument.name)}
    if life is Life.ALIVE:
        good, bad = _words_for(instrument)
        why = f"On the reserve it must live. What keeps it alive: {_power(panel, instrument)}."
        return {**head, "why": why, "state": {good: "pass", bad: "squawk"}, "proves": instrument.name}
    living, dead = panel.living_parts(instrument), panel.dead_parts(instrument)
    alive_words = [phrase_of(name.removeprefix(instrument.name)) for name in living]
    dead_words = [phrase_of(name.removeprefix(instrument.name)) for name in dead]
    return {
        **head,
        "challenge": f"{started(instrument.name)}, {' and '.join((*alive_words, *dead_words))}",
        "why": f"On the reserve only a part of it lives ({', '.join(living)}). Know it before you need it.",
        "partial": {
            "alive": listed(living),
            "dead": listed(dead),
            "answers": {
                f"{' and '.join(alive_words)} only": "pass",
                **{f"{word} dead": "squawk" for word in alive_words},
                **{f"{word} came alive": "squawk" for word in dead_words},
            },
        },
    }


def _words_for(instrument: Instrument) -> tuple[str, str]:
    senses = [sense for part in instrument.parts for sense in part.senses]
    return next((ANSWERS[sense] for sense in senses if sense in ANSWERS), PLAIN_ANSWERS)


def _power(panel: Panel, instrument: Instrument) -> str:
    drives = (panel.view.drive_of(part) for part in instrument.parts)
    return " and ".join(dict.fromkeys(panel.view.power_of(drive) for drive in drives if drive is not None))


def _load(panel: Panel, name: str) -> Entry:
    load = panel.airplane.loads[name]
    is_light = load.service is Service.LIGHTING
    good, bad = ("lamp lit", "lamp dark") if is_light else PLAIN_ANSWERS
    way = path_to(panel.airplane, panel.view.situation, load)
    return {
        "item": name,
        "challenge": started(name),
        "why": f"On the reserve it must live: {way}.",
        "state": {good: "pass", bad: "squawk"},
        "proves": name,
    }
