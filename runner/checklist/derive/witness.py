"""Derived items for what must be dead: of each shed bus the dearest load, then all that need no switch."""

from collections.abc import Iterator

from runner.airplane.model.wiring import Load, Phase, Service
from runner.checklist.derive.check_sheet import Entry
from runner.checklist.derive.panel import Panel, listed, started
from runner.checklist.kind.dead import NOTHING

IN_ONE_BREATH = 2
"""Tasks that one challenge may ask for."""
BY_VOLTS = frozenset((Service.ICE, Service.LIGHTING, Service.CABIN))
"""Services whose life is seen at the voltmeter rather than at the load."""


def witnesses(panel: Panel) -> tuple[Load, ...]:
    """The loads to look at, in panel order; a bus whose loads may not be run in a check has none."""
    chosen = {load.name: load for bus in panel.duty.buses for load in _best(panel, bus)}
    return tuple(sorted(chosen.values(), key=lambda load: (panel.rank(load.name), load.name)))


def _best(panel: Panel, bus: str) -> Iterator[Load]:
    """The load of the bus that draws most, of those that are dead there and may be run in a check.

    Never one that radiates, heats, moves or pumps: should it live, it would do so beside whoever is there.
    """
    dead = list(_idle(panel, bus))
    if dead:
        yield max(dead, key=lambda load: (load.amps, load.name))


def witness_item(load: Load) -> Entry:
    """The item that sees the load dead."""
    switched_on = "" if load.switch is None else f"{started(load.switch)} on, "
    watched = "watch the volts" if switched_on and load.service in BY_VOLTS else load.name
    return {
        "item": load.name,
        "challenge": f"{switched_on}{watched}" if switched_on else started(load.name),
        **({"moves": load.switch} if load.switch else {}),
        "why": f"It is shed. If it still lived, it would take {load.amps:g} of the battery's amperes.",
        "dead": {"loads": load.name, "on": load.switch or NOTHING, "answers": _answers(load)},
    }


def remainder_items(panel: Panel) -> Iterator[Entry]:
    """For each shed bus everything else without a switch: a load wired past it shows itself and no other."""
    chosen = {load.name for load in witnesses(panel)}
    for bus in panel.duty.buses:
        rest = [load.name for load in _idle(panel, bus) if load.switch is None and load.name not in chosen]
        if rest:
            yield {
                "item": f"rest of the {bus}",
                "challenge": f"{started(bus)}, everything else on it",
                "why": f"One of them alive would be wired past the bus: {', '.join(rest)}.",
                "dead": {
                    "loads": listed(rest),
                    "on": NOTHING,
                    "answers": {"stays dead": "pass", "came alive": "squawk"},
                },
            }


def switched_items(panel: Panel) -> Iterator[Entry]:
    """The other shed loads with a switch, two in one breath: off they would be dead anyway."""
    chosen = {load.name for load in witnesses(panel)}
    rest = [
        load
        for bus in panel.duty.buses
        for load in _idle(panel, bus)
        if load.switch is not None and load.name not in chosen
    ]
    for start in range(0, len(rest), IN_ONE_BREATH):
        pair = rest[start : start + IN_ONE_BREATH]
        switches = list(dict.fromkeys(load.switch for load in pair if load.switch is not None))
        by_volts = all(load.service in BY_VOLTS for load in pair)
        yield {
            "item": f"{' and '.join(load.name for load in pair)} shed",
            "challenge": f"{started(' and '.join(switches))} on" + (", watch the volts" if by_volts else ""),
            "moves": listed(switches),
            "why": "Shed as well. One that lives is wired past its bus, and takes from what must live.",
            "dead": {
                "loads": listed(load.name for load in pair),
                "on": listed(switches),
                "answers": _shed_answers(by_volts=by_volts),
            },
        }


def _idle(panel: Panel, bus: str) -> Iterator[Load]:
    """Loads of a bus that are dead there and may be run in a check."""
    for load in panel.airplane.loads.values():
        is_run = load.duty[Phase.CHECK] > 0 and load.acts is None
        on_it = any(feed.bus == bus for feed in load.feeds)
        if is_run and on_it and load.name not in panel.view.solution.alive:
            yield load


def _answers(load: Load) -> dict[str, str]:
    return _shed_answers(by_volts=load.switch is not None and load.service in BY_VOLTS)


def _shed_answers(*, by_volts: bool) -> dict[str, str]:
    if by_volts:
        return {"volts steady": "pass", "volts drop": "squawk"}
    return {"stays dead": "pass", "came alive": "squawk"}
