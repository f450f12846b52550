"""Loads that must show no life, with their switch on; life is a squawk."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, Final, Self

from runner.checklist.format.check import Response
from runner.checklist.format.named_answer import read_names
from runner.checklist.format.scope import Scope
from runner.checklist.kind.named import Named, need
from runner.document import Node
from runner.language.catalogue import Outcome

DEAD_KEYS: Final = (("loads", "on"), ("answers",))
NOTHING: Final = "nothing"
"""Written under `on` for loads that have no switch of their own."""
DEFAULT_DEAD: Final = (
    Response("stays dead", ("stays dead", "no life"), Outcome.PASS),
    Response("came alive", ("came alive", "it is alive"), Outcome.SQUAWK),
)


@dataclass(frozen=True, slots=True)
class Dead(Named):
    """A load that must show no life; life is a squawk."""

    key: ClassVar[str] = "dead"
    claim: ClassVar[str] = "which of its loads are dead"
    is_looked_at: ClassVar[bool] = True

    loads: tuple[str, ...]
    switches: tuple[str, ...] = ()
    """What must be switched on for the answer to prove anything; empty for loads without a switch."""

    @classmethod
    def read(cls, node: Node, scope: Scope) -> Self:
        """The loads, the switch that must be on, and the answers where they are not the usual ones."""
        keys = node.mapping(("loads",), ("on", "answers")) if scope.is_recorded else _keys(node)
        loads, switches = read_names(keys["loads"]), _switched_on(keys["on"]) if "on" in keys else ()
        if "answers" not in keys:
            return cls(DEFAULT_DEAD, loads, switches)
        responses = need(keys["answers"], failing=1)
        for label in (each.label for each in responses if each.outcome is Outcome.CAUTION):
            keys["answers"].fail(f'life where there must be none is a squawk; write "{label}: squawk"')
        return cls(responses, loads, switches)

    def shows(self, _proves: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """All its loads are dead."""
        return (), self.loads


def _keys(node: Node) -> Mapping[str, Node]:
    if "loads" in node.entries() and "on" not in node.entries():
        node.fail(
            'what is switched off is dead anyway; add "on: ..." with the switch that must be on, '
            f'or "on: {NOTHING}" for loads without a switch'
        )
    return node.mapping(*DEAD_KEYS)


def _switched_on(node: Node) -> tuple[str, ...]:
    switches = read_names(node)
    if NOTHING not in switches:
        return switches
    if len(switches) > 1:
        node.fail(f'"{NOTHING}" stands beside a switch; write one or the other')
    return ()
