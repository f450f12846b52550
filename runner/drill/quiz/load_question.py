"""Questions on loads and instruments: what feeds them, what lives, what a breaker takes, and by which way."""

from __future__ import annotations

from collections.abc import Iterator

from runner.airplane.life.lively import Life
from runner.airplane.model.airplane import Airplane
from runner.airplane.model.instrument import Instrument, LoadDrive, Part
from runner.airplane.model.wiring import Load
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
                f"{parts_words(scene, position, scene.airplane.instruments[name])}.",
                is_critical=True,
            )


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


def parts_words(scene: QuizScene, position: str, instrument: Instrument) -> str:
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
    return f"{parts_words(scene, position, scene.airplane.instruments[name])}."


def _load_reason(scene: QuizScene, position: str, name: str) -> str:
    path = scene.path(position, scene.airplane.loads[name])
    return f"{name} gets no current: {path}" if path.breaks else f"{name} gets its current by {path}"


def _loads_of(part: Part) -> frozenset[str]:
    drives = (drive.loads for drive in part.drives if isinstance(drive, LoadDrive))
    return frozenset(load for loads in drives for load in loads)


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
