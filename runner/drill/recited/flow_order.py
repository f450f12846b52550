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
from runner.checklist.format.check import Check, Item


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
    call = check.items[-1]
    judged_with = {item.name: _switches_of(item, airplane) for item in check.items}
    for number, item in enumerate(check.items):
        above = check.items[:number]
        for name in item.hangs_on:
            yield FlowRule(name, item.name, f'"{name}" decides or starts it')
        for earlier in above:
            yield from _switch_rules(earlier, item, judged_with)
            reason = _call_reason(item, call) or _place_reason(earlier, item)
            if reason:
                yield FlowRule(earlier.name, item.name, reason)


def _switch_rules(earlier: Item, item: Item, judged_with: Mapping[str, frozenset[str]]) -> Iterator[FlowRule]:
    """An item comes after what moves the switches that it is judged with, and before they move again."""
    moved, before = {*item.moves, *item.returns}, {*earlier.moves, *earlier.returns}
    for switch in judged_with[item.name] & before:
        yield FlowRule(earlier.name, item.name, f"it is judged with the {switch} as that leaves it")
    for switch in moved & before:
        yield FlowRule(earlier.name, item.name, f"both move the {switch}")
    for switch in moved & judged_with[earlier.name]:
        yield FlowRule(earlier.name, item.name, f"it is judged before the {switch} moves")


def _call_reason(item: Item, call: Item) -> str:
    return "the call ends the check" if item is call else ""


def _place_reason(earlier: Item, item: Item) -> str:
    """Why two items keep their order by selector, danger or a reading; empty where they need not."""
    if item.body.selects is not None:
        return "it belongs before the selector moves"
    if earlier.body.selects is not None:
        return "it belongs after the selector has moved"
    if earlier.body.can_stop and item.moves:
        return "danger is asked for before anything is moved"
    if item.body.number is not None and (earlier.moves or earlier.returns):
        return "it is read with the load that this leaves"
    if earlier.body.number is not None and (item.moves or item.returns):
        return "it is read before the load changes"
    return ""


def _switches_of(item: Item, airplane: Airplane | None) -> frozenset[str]:
    """The switches with which an item is judged."""
    own = frozenset(item.body.switches or ())
    if airplane is None:
        return own
    alive, dead = item.body.shows(item.proves)
    claimed = {load for name in (*alive, *dead) for load in _loads(airplane, name)}
    return own | {switch for load in claimed if (switch := airplane.loads[load].switch) is not None}


def _loads(airplane: Airplane, name: str) -> frozenset[str]:
    try:
        return loads_behind(airplane, name)
    except KeyError:
        return frozenset()
