"""An action: do it, then say so. It may move the selector, and put back what was moved."""

from dataclasses import dataclass, replace
from typing import ClassVar, Self

from runner.checklist.kind.named import Named


@dataclass(frozen=True, slots=True)
class Action(Named):
    """Do it, then say so. May move the selector."""

    key: ClassVar[str] = "action"
    is_deed: ClassVar[bool] = True
    gives_power: ClassVar[bool] = True

    selects: str | None = None
    """The selector position that this action leaves the airplane in."""

    def selecting(self, position: str) -> Self:
        """With the selector moved there."""
        return replace(self, selects=position)
