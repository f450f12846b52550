"""Derived items for what must be dead: for each shed bus the load that would cost the battery most."""

from collections.abc import Iterator

from runner.airplane.wiring import Load, Phase, Service
from runner.checklist.panel import Panel, started
from runner.checklist.sheet import Entry

SWITCHED = frozenset((Service.ICE, Service.LIGHTING))
"""Services that a pilot switches on to see that nothing happens."""


def witnesses(panel: Panel) -> tuple[Load, ...]:
    """The loads to look at, in panel order; a bus whose loads may not be run in a check has none."""
    chosen = {load.name: load for bus in panel.duty.buses for load in _best(panel, bus)}
    return tuple(sorted(chosen.values(), key=lambda load: (panel.rank(load.name), load.name)))


def _best(panel: Panel, bus: str) -> Iterator[Load]:
    """The load of the bus that draws most, of those that are dead there and may be run in a check."""
    dead = [
        load
        for load in panel.airplane.loads.values()
        if load.duty[Phase.CHECK] > 0
        and load.name not in panel.view.solution.alive
        and any(feed.bus == bus for feed in load.feeds)
    ]
    if dead:
        yield max(dead, key=lambda load: (load.amps, load.name))


def witness_item(load: Load) -> Entry:
    """The item that sees the load dead."""
    is_switched = load.service in SWITCHED
    return {
        "item": load.name,
        "challenge": started(load.name) + (" on, watch the volts" if is_switched else ""),
        "why": f"It is shed. If it still lived, it would take {load.amps:g} of the battery's amperes.",
        "dead": {"loads": load.name, "answers": _answers(load)},
    }


def _answers(load: Load) -> dict[str, str]:
    if load.service in SWITCHED:
        return {"volts steady": "pass", "volts drop": "squawk"}
    return {"stays dead": "pass", "came alive": "squawk"}
