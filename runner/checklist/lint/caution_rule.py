"""Lint of the cautions: what must be said before switches move on a parked airplane."""

from collections.abc import Iterator
from dataclasses import dataclass

from runner.checklist.format.check import Check
from runner.checklist.lint.finding import Finding, Grade
from runner.errors import Place


@dataclass(frozen=True, slots=True)
class _Need:
    """A thing that some caution must speak of."""

    words: tuple[str, ...]
    """Any of these in a caution will do."""
    grade: Grade
    advice: str


_ALWAYS = (
    _Need(("flight manual",), Grade.WARNING, "say that the flight manual and the pilot in command decide"),
    _Need(
        ("on the ground", "the ground only", "ground use"),
        Grade.WARNING,
        "say that the check is for the ground only",
    ),
    _Need(
        ("touch", "hand on"), Grade.ADVICE, "ask to touch each switch before answering (CR-177549 App. A 5)"
    ),
)
_WHEN_SELECTING = (
    _Need(("battery",), Grade.WARNING, "say that the check drains the battery"),
    _Need(
        ("ground power",),
        Grade.WARNING,
        "ask for ground power to be unplugged, or the cart carries the buses",
    ),
    _Need(("propeller", "inlet", "rotor"), Grade.WARNING, "ask for a clear propeller or inlet area"),
)
_WHEN_HEATING = (_Need(("burn", "hot"), Grade.WARNING, "say that a heater burns, and how to feel it"),)


def judge_cautions(check: Check) -> Iterator[Finding]:
    """A finding for each danger of the check that no caution speaks of."""
    spoken = " ".join(check.cautions).lower()
    for need in _needs(check):
        if not any(word in spoken for word in need.words):
            yield Finding(_top(check), need.grade, f"cautions: {need.advice}")


def _needs(check: Check) -> Iterator[_Need]:
    yield from _ALWAYS
    if any(item.body.selects for item in check.items):
        yield from _WHEN_SELECTING
    if any("heat" in f"{item.name} {item.challenge}".lower().split() for item in check.items):
        yield from _WHEN_HEATING


def _top(check: Check) -> Place:
    return Place(check.items[0].place.path, 1, 1)
