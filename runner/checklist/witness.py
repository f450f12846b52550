"""Derived items for what must be dead: for each shed bus the load that would cost the battery most."""

from collections.abc import Iterator

from runner.airplane.wiring import Load, Phase, Service
from runner.checklist.body import NOTHING
from runner.checklist.panel import Panel, started
from runner.checklist.sheet import Entry

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
    dead = [
        load
        for load in panel.airplane.loads.values()
        if load.duty[Phase.CHECK] > 0
        and load.acts is None
        and load.name not in panel.view.solution.alive
        and any(feed.bus == bus for feed in load.feeds)
    ]
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


def _answers(load: Load) -> dict[str, str]:
    if load.switch is not None and load.service in BY_VOLTS:
        return {"volts steady": "pass", "volts drop": "squawk"}
    return {"stays dead": "pass", "came alive": "squawk"}
