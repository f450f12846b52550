"""A drill's story: invented from a seed, and told only when it is proved that it can be solved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import numpy as np

from runner.airplane.model.airplane import Airplane
from runner.checklist.format.check import Check, Item
from runner.drill.played.hidden import COMES_AND_GOES, Hidden, HiddenKind
from runner.drill.played.setting import Setting
from runner.drill.story.drill_level import LEVELS, SECONDS_EACH, DrillLevel
from runner.drill.story.interruption import Interruption, interruptions_of
from runner.drill.story.solvable import prove, told_apart
from runner.errors import UsageError
from runner.language.catalogue import Outcome

TRIES: Final = 60
"""So many sets of faults are tried; then the check shows too little."""
DANGER_CHANCE: Final = 0.5
BAD_CONTACT_CHANCE: Final = 0.3
"""Ours."""
WEIGHTS: Final = {
    HiddenKind.BULB_OUT: 6.0,
    HiddenKind.BREAKER_OUT: 4.0,
    HiddenKind.DEAD: 3.0,
    HiddenKind.FLAG_LATE: 5.0,
    HiddenKind.FLAG_NEVER: 3.0,
    HiddenKind.FLAG_BACK: 3.0,
    HiddenKind.TUMBLES: 3.0,
    HiddenKind.DEAF: 3.0,
    HiddenKind.WEAK_CELL: 5.0,
    HiddenKind.WELDED: 4.0,
    HiddenKind.TIE_STUCK: 4.0,
    HiddenKind.NOT_RESTORED: 2.0,
}
"""How often each kind is hidden, relative to each other, ours; all others 1."""


@dataclass(frozen=True, slots=True)
class DrillStory:
    """Everything that a drill begins with."""

    level: int
    seed: int
    setting: Setting
    around: Mapping[str, str]
    """What is so around the airplane: item and true label."""
    interruptions: tuple[Interruption, ...]
    allowed_seconds: float | None
    """Until the departure; None where there is none."""


def invent_story(
    check: Check,
    airplane: Airplane,
    on: date,
    *,
    level: int,
    seed: int,
    faults: Sequence[Hidden] = (),
    count: int | None = None,
) -> DrillStory:
    """A story of a level; UsageError where its faults cannot be noticed in this check.

    `faults` are hidden if there are any, else `count` of the check's own, or as many as the level has.
    """
    rule, generator = LEVELS[level], np.random.default_rng(seed)
    around = _around(check, generator, has_dangers=rule.has_dangers)
    off = frozenset(switch for item in check.items for switch in item.moves)
    bare = Setting(airplane, (), on, seed, off)
    wanted = rule.faults if count is None else count
    stage = _Stage(check, bare, around, rule)
    setting = replace(bare, hidden=tuple(faults)) if faults else _hiding(stage, wanted, generator)
    unproved = prove(check, setting, around).unsolvable if faults else ()
    if unproved:
        raise UsageError(
            f"nobody could notice {'; '.join(map(str, unproved))} in {check.name}; "
            f"`eyesout drill {check.name} --faults` lists what can be"
        )
    items = len(check.items)
    slowest = max((gyro.advise_seconds for gyro in airplane.gyros.values()), default=0.0)
    return DrillStory(
        level,
        seed,
        setting,
        around,
        interruptions_of(airplane.registration, items, rule.interruptions, generator)
        if rule.interruptions
        else (),
        items * SECONDS_EACH + slowest if rule.is_pressed else None,
    )


def hideable(check: Check, airplane: Airplane) -> tuple[Hidden, ...]:
    """Faults that look like nothing else in the positions where the check goes."""
    return told_apart(airplane, positions_of(check, airplane))


def positions_of(check: Check, airplane: Airplane) -> tuple[str, ...]:
    """Where a check goes with the selector, the parked position first."""
    moved = (item.body.selects for item in check.items if item.body.selects is not None)
    return tuple(dict.fromkeys((airplane.selector.parked, *moved)))


@dataclass(frozen=True, slots=True)
class _Stage:
    check: Check
    bare: Setting
    around: Mapping[str, str]
    rule: DrillLevel


def _hiding(stage: _Stage, count: int, generator: np.random.Generator) -> Setting:
    """The setting with so many faults that can all be noticed beside each other."""
    known = hideable(stage.check, stage.bare.airplane)
    weights = np.array([WEIGHTS.get(each.kind, 1.0) for each in known])
    for _ in range(TRIES if len(known) >= count else 0):
        drawn = generator.choice(len(known), size=count, replace=False, p=weights / weights.sum())
        picked = tuple(_contact(known[number], stage.rule, generator) for number in drawn)
        setting = replace(stage.bare, hidden=picked)
        proof = prove(stage.check, setting, stage.around)
        is_asked = all(each.items for each in proof.faults)
        if not (proof.halts or proof.unsolvable) and (is_asked or not stage.rule.is_asked):
            return setting
    raise UsageError(f"{stage.check.name} shows too little for {count} faults at once; ask for fewer")


def _contact(fault: Hidden, rule: DrillLevel, generator: np.random.Generator) -> Hidden:
    """The fault, or the same with a bad contact."""
    is_bad = (
        rule.has_bad_contacts and fault.kind in COMES_AND_GOES and generator.random() < BAD_CONTACT_CHANCE
    )
    return replace(fault, comes_and_goes=True) if is_bad else fault


def _around(check: Check, generator: np.random.Generator, *, has_dangers: bool) -> dict[str, str]:
    """Which way each choice goes, and perhaps one thing around the airplane that is not as it should be."""
    around: dict[str, str] = {}
    exposed: list[tuple[str, str]] = []
    for item in check.items:
        body = item.body
        if body.is_fork:
            around[item.name] = item.responses[int(generator.integers(len(item.responses)))].label
        elif not (item.proves or body.is_measured or body.is_deed or body.is_call):
            exposed += _dangers(item)
    if has_dangers and exposed and generator.random() < DANGER_CHANCE:
        name, label = exposed[int(generator.integers(len(exposed)))]
        around[name] = label
    return around


def _dangers(item: Item) -> list[tuple[str, str]]:
    return [(item.name, each.label) for each in item.responses if each.outcome is Outcome.STOP]
