"""What a student may say or key beside the check's own answers: move, look, call what is wrong, reply."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from runner.drill.played.drill_panel import DrillPanel
from runner.drill.played.played_airplane import switches_of
from runner.drill.played.setting import Setting
from runner.drill.played.spoken_look import look_names
from runner.drill.story.interruption import Interruption
from runner.language.meaning import Picked
from runner.language.spelling import normalise


@dataclass(frozen=True, slots=True)
class MoveAct:
    """A hand on the selector or a switch."""

    switch: str
    position: str


@dataclass(frozen=True, slots=True)
class LookAct:
    """What is to be seen there?"""

    name: str


@dataclass(frozen=True, slots=True)
class CallAct:
    """Something is wrong there."""

    name: str


@dataclass(frozen=True, slots=True)
class ReplyAct:
    """To whoever interrupts."""

    number: int


DESK: Final = ""
"""The item of an answer that is meant for the drill's desk: no item of a check is nameless."""


def desk_meaning(phrase: str) -> Picked:
    """What a phrase of the desk means to whoever listens or reads keys."""
    return Picked(DESK, normalise(phrase))


DrillAct = MoveAct | LookAct | CallAct | ReplyAct


def hand_acts(setting: Setting, panel: DrillPanel) -> Mapping[str, DrillAct]:
    """Phrases for hands and eyes; the shorter way of saying yields where two things would share it."""
    acts: dict[str, DrillAct] = {}
    for phrase, act in (*_moves(setting), *_looks(panel)):
        acts.setdefault(normalise(phrase), act)
    return acts


def reply_acts(interruption: Interruption, number: int) -> Mapping[str, DrillAct]:
    """Phrases that answer an interruption."""
    return {normalise(phrase): ReplyAct(number) for phrase in interruption.wants}


def move_phrase(switch: str, position: str) -> str:
    """How a hand is told: `flood dimmer on`, `feed selector reserve`."""
    return f"{switch} {position}"


def call_phrase(name: str) -> str:
    """How a fault is called."""
    return f"{name} is wrong"


def look_phrase(name: str) -> str:
    """How a look is asked for."""
    return f"look at {name}"


def _moves(setting: Setting) -> Iterator[tuple[str, DrillAct]]:
    selector = setting.airplane.selector
    for switch, positions in switches_of(setting):
        for position in positions:
            yield move_phrase(switch, position), MoveAct(switch, position)
    for position in selector.positions:
        yield f"selector to {position}", MoveAct(selector.name, position)


def _looks(panel: DrillPanel) -> Iterator[tuple[str, DrillAct]]:
    for name in look_names(panel):
        yield call_phrase(name), CallAct(name)
        yield look_phrase(name), LookAct(name)
        yield name, LookAct(name)
