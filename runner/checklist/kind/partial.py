"""An instrument of which one part lives while another is dead."""

from dataclasses import dataclass
from typing import ClassVar, Final, Self

from runner.checklist.format.named_answer import read_names
from runner.checklist.format.scope import Scope
from runner.checklist.kind.named import Named, need
from runner.document import Node

PARTIAL_KEYS: Final = (("alive", "dead", "answers"), ())


@dataclass(frozen=True, slots=True)
class Partial(Named):
    """An instrument of which one part lives while another is dead."""

    key: ClassVar[str] = "partial"
    claim: ClassVar[str] = "which of its parts live"
    is_looked_at: ClassVar[bool] = True

    alive: tuple[str, ...]
    dead: tuple[str, ...]

    @classmethod
    def read(cls, node: Node, _scope: Scope) -> Self:
        """The parts, none of them in both lists, and the answers."""
        keys = node.mapping(*PARTIAL_KEYS)
        alive, dead = read_names(keys["alive"]), read_names(keys["dead"])
        for name in dead:
            if name in alive:
                keys["dead"].fail(f'"{name}" cannot be alive and dead at once; keep it in one list')
        return cls(need(keys["answers"], failing=1), alive, dead)

    def shows(self, _proves: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Its own two lists."""
        return self.alive, self.dead
