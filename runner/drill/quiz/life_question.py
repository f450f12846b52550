"""Questions on what lives: the bus of a load, the living, the dead, and what works only in part."""

from __future__ import annotations

from collections.abc import Iterator

from runner.airplane.life.lively import Life
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Instrument, LoadDrive, Part
from runner.drill.quiz.quiz_question import QuizDraft, QuizTopic, nearest_first
from runner.drill.quiz.quiz_scene import QuizScene


def bus_drafts(scene: QuizScene) -> Iterator[QuizDraft]:
    """Which bus feeds a load, where one bus alone does."""
    airplane = scene.airplane
    for position in scene.positions:
        picture = scene.picture(position)
        for name in sorted(picture.solution.alive):
            load = airplane.loads[name]
            bus = picture.feed_of(name)
            if bus is None or sum(feed.bus in picture.solution.carriers for feed in load.feeds) != 1:
                continue
            others = [each for each in airplane.buses if each != bus]
            yield QuizDraft(
                QuizTopic.BUS,
                name,
                position,
                f"{scene.words(position)}: which bus feeds the {name}?",
                bus,
                nearest_first(bus, others, airplane.buses),
                f"The current comes by {scene.path(position, load)}.",
                scene.is_dear(name),
            )


def alive_drafts(scene: QuizScene) -> Iterator[QuizDraft]:
    """One that lives among the dead."""
    yield from _odd_ones(scene, QuizTopic.ALIVE, Life.ALIVE, Life.DEAD, "which of these lives?")


def dead_drafts(scene: QuizScene) -> Iterator[QuizDraft]:
    """One that is dead among the living."""
    yield from _odd_ones(scene, QuizTopic.DEAD, Life.DEAD, Life.ALIVE, "which of these is dead?")


def part_drafts(scene: QuizScene) -> Iterator[QuizDraft]:
    """Instruments of which one part lives and another does not."""
    for position in scene.positions:
        picture = scene.picture(position)
        lives = {each.name: picture.life_of_instrument(each) for each in scene.airplane.instruments.values()}
        others = [name for name, life in lives.items() if life is not Life.PARTIAL]
        for name in (name for name, life in lives.items() if life is Life.PARTIAL and len(others) > 1):
            yield QuizDraft(
                QuizTopic.PART,
                name,
                position,
                f"{scene.words(position)}: which of these works only in part?",
                name,
                nearest_first(name, others, scene.airplane.panel),
                f"{_parts(scene, position, scene.airplane.instruments[name])}.",
                is_critical=True,
            )


def _odd_ones(
    scene: QuizScene, topic: QuizTopic, wanted: Life, others: Life, question: str
) -> Iterator[QuizDraft]:
    for position in scene.positions:
        picture = scene.picture(position)
        lives = {name: life for name, life in picture.lives().items() if _is_whole(scene.airplane, name)}
        rest = [name for name, life in lives.items() if life is others]
        for name in (name for name, life in lives.items() if life is wanted and len(rest) > 1):
            yield QuizDraft(
                topic,
                name,
                position,
                f"{scene.words(position)}: {question}",
                name,
                nearest_first(name, rest, (*scene.airplane.panel, *lives)),
                _reason(scene, position, name),
                name in scene.airplane.loads and scene.is_dear(name),
            )


def _is_whole(airplane: Airplane, name: str) -> bool:
    """A load or a whole instrument; its parts have a topic of their own."""
    return name in airplane.loads or name in airplane.instruments


def _reason(scene: QuizScene, position: str, name: str) -> str:
    if name in scene.airplane.loads:
        return f"{_load_reason(scene, position, name)}."
    return f"{_parts(scene, position, scene.airplane.instruments[name])}."


def _load_reason(scene: QuizScene, position: str, name: str) -> str:
    path = scene.path(position, scene.airplane.loads[name])
    return f"{name} gets no current: {path}" if path.breaks else f"{name} gets its current by {path}"


def _parts(scene: QuizScene, position: str, instrument: Instrument) -> str:
    """Of each part, by what power it works, or why not."""
    picture = scene.picture(position)
    told = []
    for part in instrument.parts:
        drive, name = picture.drive_of(part), instrument.part_name(part)
        if drive is not None:
            told.append(f"{name} works by {picture.power_of(drive)}")
        else:
            missing = sorted(_loads_of(part) - picture.solution.alive)
            told += [f"{name} is dead", *(_load_reason(scene, position, load) for load in missing)]
    return "; ".join(told)


def _loads_of(part: Part) -> frozenset[str]:
    drives = (drive.loads for drive in part.drives if isinstance(drive, LoadDrive))
    return frozenset(load for loads in drives for load in loads)
