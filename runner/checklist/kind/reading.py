"""A reading: a number off a gauge, judged by bands that lie inside one another."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any, ClassVar, Final, Self

from runner.checklist.format.scope import Scope
from runner.checklist.kind.numbered import Band, Numbered
from runner.document import NUMBER, Node
from runner.language.catalogue import Outcome, Unit

READING_REQUIRED = ("unit", "resolution", "pass")
READING_OPTIONAL = ("caution", "plausible", "stop")
_BAND = re.compile(f"({NUMBER.pattern}) to ({NUMBER.pattern})")
BELOW: Final = "below"
ABOVE: Final = "above"
_EDGE = re.compile(f"({BELOW}|{ABOVE}) ({NUMBER.pattern})")
MOST_VALUES = 2000
"""More values than this cannot be listed for a recogniser."""


@dataclass(frozen=True, slots=True)
class Reading(Numbered):
    """A number with a unit, judged against bands."""

    key: ClassVar[str] = "reading"
    is_looked_at: ClassVar[bool] = True

    unit: Unit
    resolution: Decimal
    pass_band: Band
    caution_band: Band | None
    """Values outside the pass band but inside this one are a caution, anything else a squawk."""
    plausible: Band
    stop_below: Decimal | None = None
    """A value under this one stops the run."""
    stop_above: Decimal | None = None
    """A value over this one stops the run."""

    @classmethod
    def read(cls, node: Node, _scope: Scope) -> Self:
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
                f"caution band {caution} must reach beyond pass band {passing}; write a wider one"
            )
        outer = caution or passing
        if "plausible" not in keys:
            plausible = Band(min(unit.low, outer.low), max(unit.high, outer.high))
        else:
            plausible = _band(keys["plausible"], "plausible", resolution)
            if not _encloses(plausible, outer):
                keys["plausible"].fail(
                    f"plausible band {plausible} must reach beyond {outer}, "
                    "or a bad value could never be said; write a wider one"
                )
        _check_count(keys.get("plausible", node), plausible, resolution)
        reading = cls(unit, resolution, passing, caution, plausible)
        edges = _stop_edges(keys["stop"], reading) if "stop" in keys else {}
        return replace(reading, stop_below=edges.get(BELOW), stop_above=edges.get(ABOVE))

    @property
    def can_stop(self) -> bool:
        """Whether it has a stop edge."""
        return self.stop_below is not None or self.stop_above is not None

    def outcome(self, number: Decimal) -> Outcome:
        """PASS, CAUTION, SQUAWK or STOP for a value."""
        if self.is_under_floor(number) or (self.stop_above is not None and number > self.stop_above):
            return Outcome.STOP
        if number in self.pass_band:
            return Outcome.PASS
        if self.caution_band is not None and number in self.caution_band:
            return Outcome.CAUTION
        return Outcome.SQUAWK

    def is_under_floor(self, number: Decimal) -> bool:
        """Whether the value is so low that it stops the run."""
        return self.stop_below is not None and number < self.stop_below

    def bands(self) -> str:
        """With the stop edges."""
        below = "" if self.stop_below is None else f", a stop below {self.stop_below}"
        above = "" if self.stop_above is None else f", a stop above {self.stop_above}"
        return f"{Numbered.bands(self)}{below}{above}"

    def expected(self) -> str:
        """Its bands and its stop edges."""
        return "; ".join(self._edges())

    def _edges(self) -> Iterator[str]:
        yield f"{self.pass_band} {self.unit}"
        if self.caution_band is not None:
            yield f"caution {self.caution_band}"
        if self.stop_below is not None:
            yield f"stop below {self.stop_below}"
        if self.stop_above is not None:
            yield f"stop above {self.stop_above}"

    def figures(self) -> Mapping[str, Any]:
        """Its unit and its bands."""
        caution = None if self.caution_band is None else self.caution_band.ends()
        return {"unit": self.unit.value, "pass": self.pass_band.ends(), "caution": caution}


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


def _check_count(node: Node, plausible: Band, resolution: Decimal) -> None:
    count = int((plausible.high - plausible.low) / resolution) + 1
    if count > MOST_VALUES:
        node.fail(
            f"{plausible} in steps of {resolution} is {count} values, too many to be told apart; "
            f'write a narrower "plausible" or a coarser "resolution" ({MOST_VALUES} values at most)'
        )


def _stop_edges(node: Node, reading: Reading) -> Mapping[str, Decimal]:
    """Its stop edges by their side; FileError for one that cuts into a band or that no value can pass."""
    edges: dict[str, Decimal] = {}
    for entry in node.each():
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
    return edges


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
