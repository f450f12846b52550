"""A state: one of several named answers, such as lamps: both, left out, right out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from runner.checklist.format.named_answer import read_responses
from runner.checklist.format.scope import Scope
from runner.checklist.kind.named import Named, need
from runner.document import Node


@dataclass(frozen=True, slots=True)
class NamedState(Named):
    """One of several named answers, at least one of which fails."""

    key: ClassVar[str] = "state"
    label: ClassVar[str] = "state"
    is_looked_at: ClassVar[bool] = True
    gives_power: ClassVar[bool] = True

    @classmethod
    def read(cls, node: Node, _scope: Scope) -> NamedState:
        """One answer passes, and one does not."""
        return cls(need(node, read_responses(node), passing=1, failing=1))
