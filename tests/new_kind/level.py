"""A level: how full something is, in percent, and how full it must be at least. A kind that tests add."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, ClassVar, Self

from runner.checklist.format.scope import Scope
from runner.checklist.kind.numbered import Band, Numbered
from runner.document import Node
from runner.language.catalogue import Outcome, Unit

FULL = Band(Decimal(0), Decimal(100))


@dataclass(frozen=True, slots=True)
class Level(Numbered):
    """A share of what would be full; too little is a squawk."""

    key: ClassVar[str] = "level"
    is_looked_at: ClassVar[bool] = True

    pass_band: Band
    caution_band: Band | None = None
    plausible: Band = FULL
    unit: Unit = Unit.PERCENT
    resolution: Decimal = Decimal(5)

    @classmethod
    def read(cls, node: Node, _scope: Scope) -> Self:
        """`level: 40` is forty percent or more."""
        least = node.number()
        if not 0 < least < FULL.high:
            node.fail(f"{least} percent is no level to be short of; write a number between 0 and 100")
        return cls(Band(least, FULL.high))

    def outcome(self, number: Decimal) -> Outcome:
        """PASS or SQUAWK for a value."""
        return Outcome.PASS if number in self.pass_band else Outcome.SQUAWK

    def expected(self) -> str:
        """The least."""
        return f"{self.pass_band.low} percent or more"

    def figures(self) -> Mapping[str, Any]:
        """The band that passes."""
        return {"unit": self.unit.value, "pass": self.pass_band.ends()}
