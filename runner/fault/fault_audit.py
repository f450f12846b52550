"""Audit: the single failures that a check would never notice, and the fewest looks that would show them."""

from __future__ import annotations

from dataclasses import dataclass

from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check
from runner.fault.cover import least_cover
from runner.fault.fault import Fault, ailing, faults_of
from runner.fault.fault_walk import answers, walks
from runner.fault.look import Look, Seen, looks_of


@dataclass(frozen=True, slots=True)
class FaultAudit:
    """Every single failure, sorted by who would notice it."""

    noticed: tuple[Fault, ...]
    """Change an answer of the check, whichever way it branches."""
    unnoticed: tuple[Fault, ...]
    """Can be seen from the seats in a position that the check visits, and the check does not look."""
    elsewhere: tuple[Fault, ...]
    """Show only in selector positions that the check never visits."""
    unseen: tuple[Fault, ...]
    """Change nothing that can be looked at on the battery: for maintenance, or for engines running."""
    extra: tuple[Look, ...]
    """The fewest looks, in the positions visited, that would show all that goes unnoticed."""
    is_least: bool
    """Whether it is proved that fewer do not."""

    @property
    def share(self) -> float:
        """Noticed over all that can be seen where the check goes, 0 to 1; 1 where nothing can."""
        whole = len(self.noticed) + len(self.unnoticed)
        return len(self.noticed) / whole if whole else 1.0


def audit(check: Check, airplane: Airplane) -> FaultAudit:
    """Put every single failure into the airplane and walk the check."""
    ways, looks = walks(check, airplane), looks_of(airplane)
    visited = frozenset(step.after for way in ways for step in way)
    healthy = Seen(ailing(airplane))
    expected = [answers(way, healthy) for way in ways]
    plain = {look: healthy.at(look) for look in looks}
    sorted_: dict[str, list[Fault]] = {"noticed": [], "unnoticed": [], "elsewhere": [], "unseen": []}
    reveals: dict[Look, set[Fault]] = {look: set() for look in looks if look.position in visited}
    for fault in faults_of(airplane):
        seen = Seen(ailing(airplane, fault))
        if all(answers(way, seen) != usual for way, usual in zip(ways, expected, strict=True)):
            sorted_["noticed"].append(fault)
            continue
        showing = [look for look in looks if seen.at(look) != plain[look]]
        here = [look for look in showing if look in reveals]
        sorted_["unnoticed" if here else "elsewhere" if showing else "unseen"].append(fault)
        for look in here:
            reveals[look].add(fault)
    extra, is_least = least_cover({look: frozenset(each) for look, each in reveals.items()})
    listed = {place: tuple(each) for place, each in sorted_.items()}
    return FaultAudit(
        listed["noticed"], listed["unnoticed"], listed["elsewhere"], listed["unseen"], extra, is_least
    )
