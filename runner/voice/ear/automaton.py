"""The phrases in force as the smallest word automaton: common beginnings and common endings are shared."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

Label = TypeVar("Label", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Arc(Generic[Label]):
    """One word between two junctions."""

    start: int
    label: Label
    end: int


@dataclass(frozen=True, slots=True)
class Automaton(Generic[Label]):
    """Junctions 0 (the beginning) to `size` - 1; a phrase is a path from 0 to a final junction."""

    size: int
    arcs: tuple[Arc[Label], ...]
    finals: frozenset[int]


@dataclass(slots=True)
class _Branch(Generic[Label]):
    """A junction of the tree that is built first, before endings are merged."""

    children: "dict[Label, _Branch[Label]]"
    is_final: bool = False


def word_automaton(phrases: Sequence[Sequence[Label]]) -> Automaton[Label]:
    """Build it: a tree of all phrases, then equal subtrees become one (Revuz 1992, from the leaves up)."""
    root: _Branch[Label] = _Branch({})
    for phrase in phrases:
        branch = root
        for label in phrase:
            branch = branch.children.setdefault(label, _Branch({}))
        branch.is_final = True
    return _Merger[Label]().merged(root)


class _Merger(Generic[Label]):
    """Numbers each different subtree once."""

    def __init__(self) -> None:
        self._numbers: dict[tuple[bool, frozenset[tuple[Label, int]]], int] = {}

    def merged(self, root: _Branch[Label]) -> Automaton[Label]:
        """Merge a tree; its root becomes junction 0."""
        last = self._number(root)
        order = {number: last - number for number in self._numbers.values()}
        arcs = [
            Arc(order[number], label, order[child])
            for (_, children), number in self._numbers.items()
            for label, child in children
        ]
        finals = frozenset(order[number] for (is_final, _), number in self._numbers.items() if is_final)
        return Automaton(len(order), tuple(sorted(arcs, key=lambda arc: (arc.start, arc.end))), finals)

    def _number(self, branch: _Branch[Label]) -> int:
        children = frozenset((label, self._number(child)) for label, child in branch.children.items())
        return self._numbers.setdefault((branch.is_final, children), len(self._numbers))
