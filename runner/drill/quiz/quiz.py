"""A quiz: so many questions about one airplane, chosen by a seed over all topics that it has."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

import numpy as np

from runner.airplane.model.airplane import Airplane
from runner.drill.quiz.load_question import (
    alive_drafts,
    bus_drafts,
    cause_drafts,
    dead_drafts,
    loss_drafts,
    part_drafts,
    way_drafts,
)
from runner.drill.quiz.quiz_question import Drafts, QuizDraft, QuizQuestion, QuizTopic, question_from
from runner.drill.quiz.quiz_scene import QuizScene
from runner.drill.quiz.seat_question import minutes_drafts, reads_drafts, seat_drafts

RESERVE_FIRST: Final = 0.7
"""So large a share of the questions is about the reserve, where there is a choice; ours."""


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
                left[topic] = list(makers[topic]())
            if not left[topic]:
                del makers[topic]
                continue
            draft = _chosen(left[topic], airplane.selector.reserve, rng)
            left[topic] = [each for each in left[topic] if not _are_alike(each, draft)]
            yield question_from(draft, rng)
            asked += 1


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
