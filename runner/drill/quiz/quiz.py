"""A quiz: questions on one airplane, chosen by a seed; those on seats and minutes are here."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import Final

import numpy as np

from runner.airplane.life.lively import Picture
from runner.airplane.life.seat import PILOT_SENSES, fuller_seat, seat_view
from runner.airplane.minutes.capacity import Conditions, planned_conditions
from runner.airplane.minutes.reckoning import demand, endurance
from runner.airplane.minutes.stamina import Stamina, stamina
from runner.airplane.model.airplane import Airplane, EndurancePlan
from runner.airplane.model.instrument import Seat, Sense
from runner.airplane.model.wiring import Phase
from runner.drill.quiz.load_question import (
    alive_drafts,
    bus_drafts,
    cause_drafts,
    dead_drafts,
    loss_drafts,
    part_drafts,
    parts_words,
    way_drafts,
)
from runner.drill.quiz.quiz_question import Drafts, QuizDraft, QuizQuestion, QuizTopic, question_from
from runner.drill.quiz.quiz_scene import QuizScene

FEWEST_WRONG: Final = 2
"""A small airplane may have no more of a kind; what has fewer is not asked."""
RESERVE_FIRST: Final = 0.7
"""So large a share of the questions is about the reserve, where there is a choice; ours."""
APART: Final = 1.2
"""Minutes of two answers differ by this factor at least; ours, so that nobody has to reckon to the minute."""
READERS: Final = {
    (True, True): "both seats",
    (True, False): "the left seat only",
    (False, True): "the right seat only",
    (False, False): "neither seat",
}
FULLER: Final = {
    Seat.LEFT: "the left seat",
    Seat.RIGHT: "the right seat",
    None: "neither, they keep the same",
}


def invent_quiz(airplane: Airplane, on: date, seed: int, count: int) -> Iterator[QuizQuestion]:
    """The questions in turn, each worked out when it is asked for: topics in rounds, none twice.

    Fewer come when the airplane's file gives no more.
    """
    rng = np.random.default_rng(seed)
    scene = QuizScene(airplane)
    makers = _makers(scene, on)
    left: dict[QuizTopic, list[QuizDraft]] = {}
    asked = 0
    while makers and asked < count:
        for topic in list(makers):
            if asked == count:
                return
            if topic not in left:
                left[topic] = [each for each in makers[topic]() if len(each.wrong) >= FEWEST_WRONG]
            if not left[topic]:
                del makers[topic]
                continue
            draft = _chosen(left[topic], airplane.selector.reserve, rng)
            left[topic] = [each for each in left[topic] if not _are_alike(each, draft)]
            yield question_from(draft, rng)
            asked += 1


def reads_drafts(scene: QuizScene) -> Iterator[QuizDraft]:
    """Which seat can still read what a pilot flies by."""
    for position in scene.positions:
        picture = scene.picture(position)
        for sense in PILOT_SENSES:
            right = READERS[_readers(picture, sense)]
            yield QuizDraft(
                QuizTopic.READS,
                sense.value,
                position,
                f"{scene.words(position)}: from which seat can {sense.value} still be had?",
                right,
                tuple(each for each in READERS.values() if each != right),
                f"{_shown(scene, position, Seat.LEFT, sense)}. {_shown(scene, position, Seat.RIGHT, sense)}.",
                is_critical=sense in (Sense.ATTITUDE, Sense.AIRSPEED, Sense.ALTITUDE),
                is_ordered=True,
            )


def seat_drafts(scene: QuizScene) -> Iterator[QuizDraft]:
    """Which seat keeps the fuller set."""
    for position in scene.positions:
        picture = scene.picture(position)
        right = FULLER[fuller_seat(picture)]
        ranks = {seat: seat_view(picture, seat).rank for seat in (Seat.LEFT, Seat.RIGHT)}
        told = (
            f"{seat.value}: {rows} rows of the rule, {senses} of a pilot's senses, {outlive} without battery"
            for seat, (rows, senses, outlive) in ranks.items()
        )
        yield QuizDraft(
            QuizTopic.SEAT,
            position,
            position,
            f"{scene.words(position)}: which seat keeps the fuller set of 14 CFR 91.205(d)?",
            right,
            tuple(each for each in FULLER.values() if each != right),
            f"{'; '.join(told)}.",
            is_critical=True,
            is_ordered=True,
        )


def minutes_drafts(scene: QuizScene, on: date) -> Iterator[QuizDraft]:
    """How long the battery carries the airplane as its file plans; beside it usual mistakes."""
    airplane = scene.airplane
    conditions, plan = planned_conditions(airplane.battery, on), airplane.endurance
    planned = stamina(airplane, conditions, plan)
    if planned.goes_on:
        return
    right = round(planned.minutes)
    wrong = _apart(right, _mistaken(airplane, conditions, planned))
    reserve = airplane.selector.reserve
    yield QuizDraft(
        QuizTopic.MINUTES,
        airplane.battery.name,
        reserve,
        f"All generators fail. Battery at {conditions.charge_percent:g} %, {conditions.celsius:g} degrees, "
        f"{airplane.selector.name} to {plan.positions[Phase.CRUISE]} after "
        f"{plan.recognise_minutes:g} minutes, nothing shed: for about how long does it last?",
        f"{right} minutes",
        tuple(f"{each} minutes" for each in wrong),
        "Every figure is as planned and the battery as last tested; a real one may give less. "
        "eyesout endurance tells the low case.",
        is_critical=True,
    )


def _makers(scene: QuizScene, on: date) -> dict[QuizTopic, Drafts]:
    """What makes the questions of each topic; the minutes, which take seconds, come last in a round."""
    return {
        QuizTopic.BUS: lambda: bus_drafts(scene),
        QuizTopic.ALIVE: lambda: alive_drafts(scene),
        QuizTopic.LOSS: lambda: loss_drafts(scene),
        QuizTopic.READS: lambda: reads_drafts(scene),
        QuizTopic.DEAD: lambda: dead_drafts(scene),
        QuizTopic.CAUSE: lambda: cause_drafts(scene),
        QuizTopic.SEAT: lambda: seat_drafts(scene),
        QuizTopic.WAY: lambda: way_drafts(scene),
        QuizTopic.PART: lambda: part_drafts(scene),
        QuizTopic.MINUTES: lambda: minutes_drafts(scene, on),
    }


def _chosen(drafts: list[QuizDraft], reserve: str, rng: np.random.Generator) -> QuizDraft:
    """One by chance, more often of the reserve than of any other position."""
    there = [each for each in drafts if each.position == reserve]
    wanted = there if there and rng.random() < RESERVE_FIRST else drafts
    return wanted[int(rng.integers(len(wanted)))]


def _are_alike(one: QuizDraft, other: QuizDraft) -> bool:
    """The same is asked of the same place; another right answer would be told by the first."""
    return (one.about, one.position) == (other.about, other.position)


def _readers(picture: Picture, sense: Sense) -> tuple[bool, bool]:
    left, right = seat_view(picture, Seat.LEFT), seat_view(picture, Seat.RIGHT)
    return bool(left.kept[sense]), bool(right.kept[sense])


def _shown(scene: QuizScene, position: str, seat: Seat, sense: Sense) -> str:
    """What tells a seat of it, and by what power; or why nothing does."""
    picture, instruments = scene.picture(position), scene.airplane.instruments.values()
    shown = [f"{each.shown_by} by {each.power}" for each in seat_view(picture, seat).kept[sense]]
    able = [each for each in instruments if any(sense in part.senses for part in each.parts)]
    dark = [parts_words(scene, position, each) for each in able if each.seat in (seat, Seat.CENTRE)]
    return f"{seat.value.capitalize()}: {'; '.join(shown or dark) or 'nothing is fitted'}"


def _mistaken(airplane: Airplane, conditions: Conditions, planned: Stamina) -> Iterator[float]:
    """What comes out when something is forgotten: to select the reserve, the battery's age, the approach."""
    plan, battery = airplane.endurance, airplane.battery
    yield endurance(airplane, conditions, _unselected(airplane, plan)).total_minutes
    cruise = demand(airplane, plan.positions).cruise
    if cruise > 0:
        yield battery.ampere_hours / cruise * 60
    yield plan.required_minutes
    yield planned.phase_minutes[Phase.CRUISE]
    yield from (planned.minutes * factor for factor in (0.5, 1.5, 0.25, 2.0))


def _unselected(airplane: Airplane, plan: EndurancePlan) -> EndurancePlan:
    normal = airplane.selector.normal
    return replace(plan, positions={**dict.fromkeys(plan.positions, normal)})


def _apart(right: int, found: Iterator[float]) -> tuple[int, ...]:
    """Whole minutes that nobody can take for the right ones, nor for each other."""
    kept: list[int] = []
    for minutes in map(round, found):
        if minutes > 0 and all(_is_apart(minutes, other) for other in (right, *kept)):
            kept.append(minutes)
    return tuple(kept[:3])


def _is_apart(one: int, other: int) -> bool:
    return max(one, other) >= APART * min(one, other)
