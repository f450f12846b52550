"""An action: do it, then say so. It may move the selector, and put back what was moved."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from runner.checklist.format.named_answer import read_responses
from runner.checklist.format.scope import Scope
from runner.checklist.kind.named import Named, need
from runner.document import Node


@dataclass(frozen=True, slots=True)
class Action(Named):
    """Do it, then say so. May move the selector."""

    key: ClassVar[str] = "action"
    label: ClassVar[str] = "action"
    is_deed: ClassVar[bool] = True
    gives_power: ClassVar[bool] = True

    selects: str | None = None
    """The selector position that this action leaves the airplane in."""

    @classmethod
    def read(cls, node: Node, _scope: Scope) -> Action:
        """At least one answer passes; `selects` stands beside it in the item."""
        return cls(need(node, read_responses(node), passing=1))

    def selecting(self, position: str) -> Action:
        """With the selector moved there."""
        return replace(self, selects=position)
