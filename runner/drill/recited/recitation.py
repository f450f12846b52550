"""A recitation judged: what was right, left out, out of place, foreign or said twice, and what is in doubt.

What was recited is aligned with the nearest order that is allowed. Items that were said the wrong way round
exclude one another; the largest set without such a pair is a largest antichain (Dilworth 1950), found by a
matching and the cover that it gives (König 1931). What is in doubt never counts against the student: each
line that nobody cleared up excuses one item that it may have meant.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rapidfuzz.distance import LCSseq

from runner.checklist.format.check import Check
from runner.drill.recited.flow_order import FlowOrder
from runner.drill.recited.flow_words import SaidLine

Graph = Mapping[str, frozenset[str]]


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


@dataclass(frozen=True, slots=True)
class FlowAlignment:
    """What became of each item, and of what was said beside them."""

    right: tuple[str, ...]
    """Said where they may be said, in the order of saying."""
    misplaced: tuple[str, ...]
    """Said, but before something that they wait for, or after something that waits for them."""
    omitted: tuple[str, ...]
    intruded: tuple[str, ...]
    """Said, and no items of this check."""
    target: tuple[str, ...]
    """The allowed order that is nearest to what was said."""


def align(order: FlowOrder, said: Sequence[str]) -> FlowAlignment:
    """Hold what was said, each thing once, against every order that is allowed."""
    known = [name for name in said if name in order.before]
    kept = largest_without_conflict(_conflicts(order, known), known)
    target = nearest_order(order, kept)
    right = [
        name
        for step in LCSseq.opcodes(said, target)
        if step.tag == "equal"
        for name in said[step.src_start : step.src_end]
    ]
    return FlowAlignment(
        tuple(right),
        tuple(name for name in known if name not in right),
        tuple(name for name in target if name not in known),
        tuple(name for name in said if name not in order.before),
        target,
    )


def nearest_order(order: FlowOrder, kept: Sequence[str]) -> tuple[str, ...]:
    """All items in an order that is allowed, those that are kept in theirs, the others by the check."""
    follows = dict(zip(kept[1:], kept, strict=False))
    left, done = list(order.items), list[str]()
    while left:
        free = (
            name for name in left if order.before[name].isdisjoint(left) and follows.get(name) not in left
        )
        done.append(next(free))
        left.remove(done[-1])
    return tuple(done)


def largest_without_conflict(conflicts: Graph, names: Sequence[str]) -> list[str]:
    """A largest set of names of which no two conflict, in their order."""
    partner: dict[str, str] = {}
    for name in names:
        _augment(conflicts, name, partner, set())
    unmatched = set(names) - set(partner.values())
    reached, later = set(unmatched), set[str]()
    waiting = list(unmatched)
    while waiting:
        for other in conflicts[waiting.pop()] - later:
            later.add(other)
            if partner[other] not in reached:
                reached.add(partner[other])
                waiting.append(partner[other])
    return [name for name in names if name in reached and name not in later]


def _augment(conflicts: Graph, name: str, partner: dict[str, str], seen: set[str]) -> bool:
    """One more pair of the matching, from a name that has none (Kuhn 1955)."""
    for other in sorted(conflicts[name] - seen):
        seen.add(other)
        if other not in partner or _augment(conflicts, partner[other], partner, seen):
            partner[other] = name
            return True
    return False


def _conflicts(order: FlowOrder, known: Sequence[str]) -> Graph:
    """Of each item, those that were said before it and had to come after it."""
    return {
        name: frozenset(other for other in known[:number] if name in order.before[other])
        for number, name in enumerate(known)
    }
