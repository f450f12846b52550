"""A recitation judged: what was right, left out, out of place, foreign or said twice, and what is in doubt.

What is in doubt never counts against the student: each line that nobody cleared up excuses one item that it
may have meant.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from runner.checklist.format.check import Check
from runner.drill.recited.flow_alignment import align
from runner.drill.recited.flow_order import FlowOrder
from runner.drill.recited.flow_words import SaidLine


@dataclass(frozen=True, slots=True)
class Misplaced:
    """An item that was said at a wrong place."""

    item: str
    other: str
    """The item that it is out of place to."""
    is_early: bool
    """It was said before the other, and has to come after it."""
    reason: str


@dataclass(frozen=True, slots=True)
class Recitation:
    """What came of it; every item of the check that has to be said is in one of the first four."""

    right: tuple[str, ...]
    misplaced: tuple[Misplaced, ...]
    omitted: tuple[str, ...]
    doubtful: tuple[str, ...]
    """Excused: a line that stayed unclear may have meant them."""
    optional: tuple[str, ...]
    """Left out, and asked only after some answers."""
    intruded: tuple[str, ...]
    """Lines that mean nothing of this check."""
    repeated: tuple[str, ...]

    @property
    def asked(self) -> int:
        """How many items had to be said, or were."""
        return len(self.right) + len(self.misplaced) + len(self.omitted) + len(self.doubtful)

    @property
    def score(self) -> int:
        """How many of them do not count against the student."""
        return len(self.right) + len(self.doubtful)


def judge_recitation(check: Check, order: FlowOrder, lines: Sequence[SaidLine]) -> Recitation:
    """Judge the lines in the order of saying; those still doubtful only excuse."""
    clear = [each.candidates[0] if each.candidates else each.text for each in lines if not each.is_doubtful]
    said = list(dict.fromkeys(clear))
    found = align(order, said)
    by_answer = {item.name for item in check.items if item.when is not None}
    wanted = [name for name in found.omitted if name not in by_answer]
    optional = [name for name in found.omitted if name in by_answer]
    excused = _excused([each for each in lines if each.is_doubtful], wanted, optional)
    return Recitation(
        found.right,
        tuple(_misplaced(order, said, found.right, name) for name in found.misplaced),
        tuple(name for name in wanted if name not in excused),
        tuple(name for name in found.omitted if name in excused),
        tuple(name for name in optional if name not in excused),
        found.intruded,
        tuple(dict.fromkeys(name for number, name in enumerate(clear) if name in clear[:number])),
    )


def _misplaced(order: FlowOrder, said: Sequence[str], right: Sequence[str], name: str) -> Misplaced:
    """Against which of the items that are in place it stands wrong."""
    at = said.index(name)
    early = [other for other in said[at:] if other in order.before[name]]
    late = [other for other in said[:at] if name in order.before.get(other, frozenset())]
    near = [each for each in (*early, *reversed(late)) if each in right] or [*early, *late]
    if near[0] in early:
        return Misplaced(name, near[0], is_early=True, reason=order.reason(near[0], name))
    return Misplaced(name, near[0], is_early=False, reason=order.reason(name, near[0]))


def _excused(unclear: Sequence[SaidLine], wanted: Sequence[str], optional: Sequence[str]) -> frozenset[str]:
    """As many items as unclear lines can have meant, each line one; those that had to be said go first."""
    taken: dict[str, int] = {}
    for missing in (wanted, (*wanted, *optional)):
        means = [_meant(each, missing) for each in unclear]
        for number in range(len(means)):
            if number not in taken.values():
                _excuse(means, number, taken, set())
    return frozenset(taken)


def _meant(line: SaidLine, missing: Sequence[str]) -> tuple[str, ...]:
    """What an unclear line may have meant: its candidates, or anything where it was like nothing."""
    return tuple(name for name in missing if name in line.candidates or not line.candidates)


def _excuse(means: Sequence[tuple[str, ...]], number: int, taken: dict[str, int], seen: set[str]) -> bool:
    """One more item excused by a line that excuses none yet; none that was excused is lost (Kuhn 1955)."""
    for name in means[number]:
        if name not in seen:
            seen.add(name)
            if name not in taken or _excuse(means, taken[name], taken, seen):
                taken[name] = number
                return True
    return False
