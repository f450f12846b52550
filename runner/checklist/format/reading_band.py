"""Readings: a unit, a resolution, and the bands by which a value is judged."""

import re
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from typing import Final

from runner.checklist.format.check import Band, Reading, Unit
from runner.document import NUMBER, Node

READING_REQUIRED = ("unit", "resolution", "pass")
READING_OPTIONAL = ("caution", "plausible", "stop")
_BAND = re.compile(f"({NUMBER.pattern}) to ({NUMBER.pattern})")
BELOW: Final = "below"
ABOVE: Final = "above"
_EDGE = re.compile(f"({BELOW}|{ABOVE}) ({NUMBER.pattern})")
MOST_VALUES = 2000
"""More values than this cannot be listed for a recogniser."""

PLAUSIBLE = {
    Unit.VOLTS: Band(Decimal(10), Decimal(32)),
    Unit.AMPS: Band(Decimal(0), Decimal(100)),
    Unit.SECONDS: Band(Decimal(0), Decimal(300)),
    Unit.DEGREES: Band(Decimal(0), Decimal(360)),
    Unit.PERCENT: Band(Decimal(0), Decimal(100)),
}
"""What a gauge of each unit may show, where the check does not say; our own choice."""


def read_reading(node: Node) -> Reading:
    """A reading; FileError when its bands do not lie inside one another."""
    keys = node.mapping(READING_REQUIRED, READING_OPTIONAL)
    unit = Unit(keys["unit"].one_of(unit.value for unit in Unit))
    resolution = keys["resolution"].number()
    if resolution <= 0:
        keys["resolution"].fail(
            f"resolution {resolution} is no step; write the gauge's smallest, such as 0.1"
        )
    passing = _band(keys["pass"], "pass", resolution)
    caution = _band(keys["caution"], "caution", resolution) if "caution" in keys else None
    if caution is not None and not _encloses(caution, passing):
        keys["caution"].fail(
            f"caution band {_said(caution)} must reach beyond pass band {_said(passing)}; write a wider one"
        )
    outer = caution or passing
    if "plausible" not in keys:
        plausible = _hull(PLAUSIBLE[unit], outer)
    else:
        plausible = _band(keys["plausible"], "plausible", resolution)
        if not _encloses(plausible, outer):
            keys["plausible"].fail(
                f"plausible band {_said(plausible)} must reach beyond {_said(outer)}, "
                "or a bad value could never be said; write a wider one"
            )
    _check_count(keys.get("plausible", node), plausible, resolution)
    reading = Reading(unit, resolution, passing, caution, plausible)
    return read_stop(keys["stop"], reading) if "stop" in keys else reading


def _band(node: Node, name: str, resolution: Decimal) -> Band:
    words = node.text()
    found = _BAND.fullmatch(words)
    if found is None:
        node.fail(f'{name} band "{words}" is not a band; write two numbers, such as "23.0 to 29.0"')
    low, high = Decimal(found[1]), Decimal(found[3])
    if low > high:
        node.fail(f'{name} band {low} to {high} is upside down; write "{high} to {low}"')
    if low == high:
        node.fail(f"{name} band {low} to {high} has no width; write two different numbers")
    for edge in (low, high):
        if edge % resolution:
            node.fail(f"{edge} is no step of {resolution}; write an edge that the gauge can show")
    return Band(low, high)


def _encloses(outer: Band, inner: Band) -> bool:
    return inner.low in outer and inner.high in outer and outer != inner


def _hull(one: Band, other: Band) -> Band:
    return Band(min(one.low, other.low), max(one.high, other.high))


def _said(band: Band) -> str:
    return f"{band.low} to {band.high}"


def _check_count(node: Node, plausible: Band, resolution: Decimal) -> None:
    count = int((plausible.high - plausible.low) / resolution) + 1
    if count > MOST_VALUES:
        node.fail(
            f"{_said(plausible)} in steps of {resolution} is {count} values, too many to be told apart; "
            f'write a narrower "plausible" or a coarser "resolution" ({MOST_VALUES} values at most)'
        )


def read_stop(node: Node, reading: Reading) -> Reading:
    """The reading with its stop edges; FileError for one that cuts into a band or that no value can pass."""
    edges: dict[str, Decimal] = {}
    for entry in _entries(node):
        words = entry.text()
        found = _EDGE.fullmatch(words)
        if found is None:
            entry.fail(f'"{words}" is not an edge; write "{BELOW} 20.0" or "{ABOVE} 57"')
        side, number = found[1], Decimal(found[2])
        if side in edges:
            entry.fail(f'"{side}" is written twice; keep one of them')
        if number % reading.resolution:
            entry.fail(f"{number} is no step of {reading.resolution}; write an edge that the gauge can show")
        _check_edge(entry, side, number, reading)
        edges[side] = number
    return replace(reading, stop_below=edges.get(BELOW), stop_above=edges.get(ABOVE))


def _entries(node: Node) -> Iterable[Node]:
    return (node,) if isinstance(node.value, str) else node.items()


def _check_edge(node: Node, side: str, number: Decimal, reading: Reading) -> None:
    good, whole = reading.caution_band or reading.pass_band, reading.plausible
    limit = good.low if side == BELOW else good.high
    if number > limit if side == BELOW else number < limit:
        node.fail(
            f"{side} {number} reaches into {good.low} to {good.high}, which is no danger; "
            f'write "{side} {limit}" or further out'
        )
    if not whole.low < number < whole.high:
        node.fail(
            f"no value {side} {number} can be said, since only {whole.low} to {whole.high} is plausible; "
            'write a wider "plausible" or an edge inside it'
        )
