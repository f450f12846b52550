"""From a lesson to what was learned: every ear there is hears the same sayings, and one is chosen."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from runner.errors import ModelError
from runner.session.engine import BUILTIN, VOSK, fingerprint, make_recogniser, shipped_threshold
from runner.session.learn.teacher import Lesson, judge
from runner.voice.lesson.fitting import choose_engine, choose_threshold
from runner.voice.lesson.learned import Learned, LearnedEar, measure
from runner.voice.lesson.trial import Trial, count


def present_engines(engine: str = "") -> tuple[str, ...]:
    """The ears to compare, the usual one first: the one named, or else all that this computer has."""
    if engine:
        return (engine,)
    try:
        make_recogniser(VOSK)
    except ModelError:
        return (BUILTIN,)
    return (BUILTIN, VOSK)


def learn(lesson: Lesson, engines: Iterable[str], *, pilot: str, device: str, at: float) -> Learned:
    """Let each ear hear the lesson; `at` is seconds since the epoch. ModelError when an ear is missing."""
    heard = {engine: judge(make_recogniser(engine, threshold=0.0), lesson.said) for engine in engines}
    shipped = {engine: shipped_threshold(engine) for engine in heard}
    chosen = choose_engine(heard, shipped)
    return Learned(
        pilot=pilot,
        device=device,
        learned_at=at,
        measures=measure(
            lesson.floor_dbfs, tuple(part for each in lesson.said for part in (each.first, each.second))
        ),
        engine=chosen,
        ears=tuple(_fit(engine, trials, shipped[engine]) for engine, trials in heard.items()),
        understood_late=sum(each.is_understood_late and each.ask.is_answer for each in lesson.said),
        heard_wrong=_wrong_words(heard[chosen], shipped[chosen]),
    )


def _fit(engine: str, trials: Sequence[Trial], shipped: float) -> LearnedEar:
    threshold = choose_threshold(shipped, trials)
    return LearnedEar(
        engine, fingerprint(engine), shipped, threshold, count(trials, shipped), count(trials, threshold)
    )


def _wrong_words(trials: Sequence[Trial], threshold: float) -> tuple[str, ...]:
    return tuple(
        f'"{trial.asked}" as "{trial.guess}"'
        for trial in trials
        if trial.is_taken(threshold) and not trial.is_right
    )
