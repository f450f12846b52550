"""The order of a flow: which items must come before which, each with its reason; all else is free.

An item waits for what decides whether it applies, for the power of its clock, for the switches that it is
judged with and before they come back. What stands between two moves of the selector belongs there. A question
of danger comes before anything is moved, a reading after what loads the battery, the call last.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from runner.airplane.life.neighbour import loads_behind
from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Action, Call, Check, Dead, Item, Outcome, Partial, Reading


@dataclass(frozen=True, slots=True)
class FlowRule:
    """One item that must come before another."""

    first: str
    then: str
    reason: str


@dataclass(frozen=True, slots=True)
class FlowOrder:
    """Everything that orders the items of a check."""

    items: tuple[str, ...]
    """In the order of the check, which is one of those allowed."""
    rules: tuple[FlowRule, ...]
    before: Mapping[str, frozenset[str]]
    """Of each item, all that must come before it, at however many removes."""

    def reason(self, first: str, then: str) -> str:
        """Why the one comes before the other, by the last step of the way."""
        direct = [each for each in self.rules if each.then == then]
        near = [each for each in direct if each.first == first]
        onward = [each for each in direct if first in self.before[each.first]]
        return (near or onward)[0].reason


def flow_order(check: Check, airplane: Airplane | None) -> FlowOrder:
    """The order of a check's items; with its airplane also what its loads' own switches ask for."""
    rules = tuple(_rules(check, airplane))
    before: dict[str, frozenset[str]] = {}
    for item in check.items:  # every rule points onward in the check
        firsts = [each.first for each in rules if each.then == item.name]
        before[item.name] = frozenset(firsts).union(*(before[name] for name in firsts))
    return FlowOrder(tuple(item.name for item in check.items), rules, before)


def _rules(check: Check, airplane: Airplane | None) -> Iterator[FlowRule]:
    for number, item in enumerate(check.items):
        above = check.items[:number]
        for name in item.hangs_on:
            yield FlowRule(name, item.name, f'"{name}" decides or starts it')
        yield from _switch_rules(item, above, _switches_of(item, airplane))
        yield from _place_rules(item, above)


def _switch_rules(item: Item, above: tuple[Item, ...], judged_with: frozenset[str]) -> Iterator[FlowRule]:
    """After what moves its switches; what brings a switch back comes after all that was judged with it."""
    for earlier in above:
        for switch in judged_with & {*earlier.moves, *earlier.returns}:
            yield FlowRule(earlier.name, item.name, f"it is judged with the {switch} as that leaves it")
        for switch in {*item.returns, *item.moves} & {*earlier.moves, *earlier.returns}:
            yield FlowRule(earlier.name, item.name, f"both move the {switch}")


def _place_rules(item: Item, above: tuple[Item, ...]) -> Iterator[FlowRule]:
    """Selector, danger, readings and the call."""
    for earlier in above:
        if _selects(item):
            yield FlowRule(earlier.name, item.name, "it belongs before the selector moves")
        elif _selects(earlier):
            yield FlowRule(earlier.name, item.name, "it belongs after the selector has moved")
        elif _is_call(item):
            yield FlowRule(earlier.name, item.name, "the call ends the check")
        elif _asks_danger(earlier) and item.moves:
            yield FlowRule(earlier.name, item.name, "danger is asked for before anything is moved")
        elif _reads(item) and (earlier.moves or earlier.returns):
            yield FlowRule(earlier.name, item.name, "it is read with the load that this leaves")
        elif _reads(earlier) and (item.moves or item.returns):
            yield FlowRule(earlier.name, item.name, "it is read before the load changes")


def _switches_of(item: Item, airplane: Airplane | None) -> frozenset[str]:
    """The switches with which an item is judged, its own included."""
    match item.body:
        case Dead(loads=loads, switches=switches):
            named, own = loads, frozenset(switches)
        case Partial(alive=alive, dead=dead):
            named, own = (*alive, *dead), frozenset()
        case _:
            named, own = (), frozenset()
    if airplane is None:
        return own
    claimed = {load for name in (*named, *item.proves) for load in _loads(airplane, name)}
    return own | {switch for load in claimed if (switch := airplane.loads[load].switch) is not None}


def _loads(airplane: Airplane, name: str) -> frozenset[str]:
    try:
        return loads_behind(airplane, name)
    except KeyError:
        return frozenset()


def _selects(item: Item) -> bool:
    match item.body:
        case Action(selects=str()):
            return True
        case _:
            return False


def _is_call(item: Item) -> bool:
    match item.body:
        case Call():
            return True
        case _:
            return False


def _reads(item: Item) -> bool:
    match item.body:
        case Reading():
            return True
        case _:
            return False


def _asks_danger(item: Item) -> bool:
    return any(each.outcome is Outcome.STOP for each in item.responses)
