"""A debrief: the film of a drill, its judgement and its figures, from what is on record of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from runner.core.ask.agenda import state_of
from runner.core.plan import Plan
from runner.core.record.entry import Entry
from runner.core.record.fold import fold
from runner.core.state import State
from runner.drill.debrief.drill_figures import DrillFigures, DrillTold, figures_of
from runner.drill.drill_event import DrillEvent
from runner.drill.judged.film import Film, shoot
from runner.drill.judged.judgement import Judgement, judge
from runner.drill.story.drill_story import DrillStory


@dataclass(frozen=True, slots=True)
class DrillDebrief:
    """Everything that is told after a drill."""

    title: str
    """Of the check."""
    student: str
    begun_at: float
    story: DrillStory
    state: State
    """In which the check was left."""
    film: Film
    judgement: Judgement
    figures: DrillFigures
    events: tuple[DrillEvent, ...]
    before: tuple[Mapping[str, Any], ...]
    """Figures of the same student's drills of this check before, the oldest first."""


@dataclass(frozen=True, slots=True)
class DrillTape:
    """What is on record of a drill."""

    begun_at: float
    ended_at: float
    entries: Sequence[Entry]
    events: Sequence[DrillEvent]


def debrief_of(
    story: DrillStory,
    plan: Plan,
    tape: DrillTape,
    *,
    student: str,
    before: Sequence[Mapping[str, Any]] = (),
) -> DrillDebrief:
    """Play the drill again, judge it, and count."""
    progress = fold(plan, tape.entries)
    film = shoot(story.setting, tape.begun_at, tape.events, tape.ended_at)
    judgement = judge(film, progress, tape.events, story.around)
    told = DrillTold(
        plan.check, tape.entries, tape.events, tape.begun_at, tape.ended_at, story.allowed_seconds
    )
    return DrillDebrief(
        plan.check.title,
        student,
        tape.begun_at,
        story,
        state_of(progress),
        film,
        judgement,
        figures_of(film, judgement, told),
        tuple(tape.events),
        tuple(before),
    )
