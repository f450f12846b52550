"""A choice: a question whose answer decides which later items apply (`Item.when`)."""

from dataclasses import dataclass
from typing import ClassVar, Self

from runner.checklist.format.scope import Scope
from runner.checklist.kind.named import Named, need
from runner.document import Node
from runner.language.catalogue import Outcome


@dataclass(frozen=True, slots=True)
class Choice(Named):
    """A question whose answer decides which later items apply."""

    key: ClassVar[str] = "choice"
    is_fork: ClassVar[bool] = True
    moves_nothing: ClassVar[str] = "choice only branches"

    @classmethod
    def read(cls, node: Node, _scope: Scope) -> Self:
        """Two answers or more, none of which judges."""
        responses = need(node, passing=2)
        for label in (each.label for each in responses if each.outcome is not Outcome.PASS):
            node.fail(f'"{label}" judges, but a choice only branches; write a "state" item instead')
        return cls(responses)
