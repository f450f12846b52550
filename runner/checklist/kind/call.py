"""The completion call, always the last item."""

from dataclasses import dataclass
from typing import ClassVar, Self

from runner.checklist.format.named_answer import read_responses
from runner.checklist.format.scope import Scope
from runner.checklist.kind.named import Named
from runner.document import Node
from runner.language.catalogue import Outcome


@dataclass(frozen=True, slots=True)
class Call(Named):
    """The completion call."""

    key: ClassVar[str] = "call"
    is_call: ClassVar[bool] = True

    @classmethod
    def read(cls, node: Node, _scope: Scope) -> Self:
        """One answer, which passes."""
        responses = read_responses(node)
        if len(responses) != 1 or responses[0].outcome is not Outcome.PASS:
            node.fail('a call has one answer that passes; write "call: reserve bus check complete"')
        return cls(responses)
