"""Questions on losses: what dies when a breaker opens, which breaker it was, by which way current comes."""

from __future__ import annotations

from collections.abc import Iterator

from runner.airplane.model.airplane import Airplane
from runner.airplane.model.wiring import Load
from runner.drill.quiz.quiz_question import QuizDraft, QuizTopic, nearest_first
from runner.drill.quiz.quiz_scene import QuizScene


def loss_drafts(scene: QuizScene) -> Iterator[QuizDraft]:
    """What dies when a breaker opens, among what lives on."""
    airplane = scene.airplane
    for position in scene.positions:
        for breaker, lost in scene.losses(position):
            living = scene.picture(position, breaker).solution.alive
            for name in sorted(lost) if len(living) > 1 else ():
                yield QuizDraft(
                    QuizTopic.LOSS,
                    breaker,
                    position,
                    f'{scene.words(position)}: breaker "{breaker}" opens. What dies?',
                    name,
                    _neighbours_first(airplane, name, living),
                    _why(scene, position, breaker, lost, airplane.loads[name]),
                    any(map(scene.is_dear, lost)),
                )


def cause_drafts(scene: QuizScene) -> Iterator[QuizDraft]:
    """Which breaker it was, among those that the load does not hang on."""
    airplane = scene.airplane
    for position in scene.positions:
        losses = dict(scene.losses(position))
        for breaker, lost in losses.items():
            for name in sorted(lost):
                innocent = [each for each, dead in losses.items() if name not in dead]
                yield QuizDraft(
                    QuizTopic.CAUSE,
                    name,
                    position,
                    f"{scene.words(position)}: the {name} has died, and one breaker is out. Which?",
                    breaker,
                    nearest_first(breaker, innocent, tuple(airplane.breakers)),
                    _why(scene, position, breaker, lost, airplane.loads[name]),
                    scene.is_dear(name),
                )


def way_drafts(scene: QuizScene) -> Iterator[QuizDraft]:
    """The way of a load's current, among ways that end at buses on which it does not hang."""
    airplane = scene.airplane
    for position in scene.positions:
        alive = sorted(scene.picture(position).solution.alive)
        ways = {name: scene.path(position, airplane.loads[name]).steps for name in alive}
        for name, steps in ways.items():
            homes = {feed.bus for feed in airplane.loads[name].feeds}
            bus, end = _split(airplane, steps)
            wrong = [
                " > ".join((*_split(airplane, other)[0], *end))
                for other in ways.values()
                if _split(airplane, other)[0][-1] not in homes
            ]
            if len(set(wrong)) > 1:
                yield QuizDraft(
                    QuizTopic.WAY,
                    name,
                    position,
                    f"{scene.words(position)}: by which way does the {name} get its current?",
                    " > ".join(steps),
                    tuple(dict.fromkeys(wrong)),
                    f"It hangs on the {bus[-1]}.",
                    scene.is_dear(name),
                )


def _split(airplane: Airplane, steps: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """A way as far as its last bus, and the breaker and the load behind it."""
    last = max(number for number, step in enumerate(steps[:-1]) if step in airplane.buses)
    return steps[: last + 1], steps[last + 1 :]


def _neighbours_first(airplane: Airplane, name: str, living: frozenset[str]) -> tuple[str, ...]:
    """Those of the same buses first, then by the panel."""
    homes = {feed.bus for feed in airplane.loads[name].feeds}
    ranked = nearest_first(name, sorted(living), airplane.panel)
    return tuple(
        sorted(ranked, key=lambda each: homes.isdisjoint(feed.bus for feed in airplane.loads[each].feeds))
    )


def _why(scene: QuizScene, position: str, breaker: str, lost: frozenset[str], load: Load) -> str:
    others = ", ".join(sorted(lost - {load.name}))
    besides = f" With it go: {others}." if others else ""
    before = scene.path(position, load)
    return f'Its current comes by {before}; breaker "{breaker}" takes that away, with no other left.{besides}'
