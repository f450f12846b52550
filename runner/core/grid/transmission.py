"""A transmission: all that is said in one reply, cut into breaths that follow one another by themselves."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from runner.core.ask import prompt
from runner.core.ask.agenda import state_of
from runner.core.ask.alert import alert_words
from runner.core.grid.grid_reply import Reply
from runner.core.grid.turn import Manner, Turn
from runner.core.record.progress import Progress
from runner.core.state import State
from runner.language.breath import Passage, get_breaths, get_clauses


@dataclass(frozen=True, slots=True)
class Transmission:
    """What a turn says, in one breath or more."""

    breaths: tuple[str, ...]
    read_back: tuple[str, ...]
    """The sentences that are said at the pace of a read-back."""


@dataclass(frozen=True, slots=True)
class Telling:
    """What a reply has to tell besides its own words."""

    at: float
    """Seconds since the epoch."""
    alerts: tuple[str, ...]
    passed: tuple[str, ...]
    """Items of running clocks that are passed by."""


def transmit(progress: Progress, reply: Reply, turn: Turn, manner: Manner, telling: Telling) -> Transmission:
    """What is said after the reply's entries; a note is recorded while its one breath still sounds."""
    if reply.is_repetition:
        return _again(prompt.sentences(reply.preface), turn, manner)
    passages = [_ended(each) for each in _passages(progress, reply, turn, manner, telling)]
    slow = (each.text for each in passages if each.is_read_back or manner.is_slower)
    breaths = get_breaths(passages, is_slower=manner.is_slower)
    if state_of(progress) is State.NOTING or not breaths:
        breaths = (" ".join(breaths),)
    return Transmission(breaths, _sentences(slow))


def _again(text: str, turn: Turn, manner: Manner) -> Transmission:
    """What was said, in the breaths in which it was said unless it is to be slower; or another text."""
    before = (*turn.said, turn.text, *turn.rest)
    parts = [(Passage(breath),) for breath in before] if text == turn.transmission else [_tasks(text)]
    breaths = tuple(breath for part in parts for breath in get_breaths(part, is_slower=manner.is_slower))
    return Transmission(breaths, _sentences(breaths) if manner.is_slower else turn.read_back)


def _tasks(text: str) -> tuple[Passage, ...]:
    return (Passage(text, is_task=True),)


def _sentences(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(sentence for text in texts for sentence in get_clauses(text, is_read_back=True))


def _passages(
    progress: Progress, reply: Reply, turn: Turn, manner: Manner, telling: Telling
) -> Iterator[Passage]:
    """What is replied, what must be heard, clocks that are passed by, and the question."""
    is_briefing = state_of(progress) is State.BRIEFING
    yield Passage(reply.preface, is_task=is_briefing)
    yield Passage(reply.read_back, is_read_back=True)
    yield Passage(reply.remark, is_task=True)
    for alert in telling.alerts:
        yield Passage(alert_words(progress, alert, telling.at))
    for name in telling.passed:
        if name not in telling.alerts:
            yield Passage(prompt.challenge(progress, name), is_task=True)
    unsaid = turn.unsaid if is_briefing and turn.question.state is State.BRIEFING else ()
    for question in unsaid or (prompt.question(progress),):
        yield from [Passage(question, is_task=True)] * (2 if manner.is_twice else 1)


def _ended(passage: Passage) -> Passage:
    return Passage(prompt.sentences(passage.text), passage.is_task, passage.is_read_back)
