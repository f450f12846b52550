"""The figures of a drill, each for itself: there is no mark that adds them up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, replace
from statistics import median
from typing import Any

from runner.checklist.format.check import Check, Item
from runner.core.record.entry import Entry, PutOff
from runner.drill.drill_event import (
    DrillEvent,
    DrillInterrupted,
    HandMoved,
    InterruptionAnswered,
    WordsRefused,
)
from runner.drill.judged.film import Film, shoot
from runner.drill.judged.judgement import AnswerVerdict, Judgement
from runner.drill.played.played_airplane import PlayedAirplane
from runner.drill.played.setting import Setting


@dataclass(frozen=True, slots=True)
class DrillFigures:
    """What can be counted; seconds and ampere-hours."""

    hidden: int
    caught: int
    missed: int
    invented: int
    answers: int
    right: int
    hasty: int
    undone: int
    """Answers that said something was done that was not."""
    put_off: int
    refused_words: int
    early_hands: int
    """Switches that no item had asked for when they were moved."""
    interruptions: int
    interruptions_answered: int
    seconds: float
    allowed_seconds: float | None
    median_seconds: float
    """Of an answer, from the end of its challenge."""
    ampere_hours: float
    wasted_ampere_hours: float
    """Drawn because of switches that no item had asked for."""
    wasted_minutes: float
    """The same in minutes of the battery with the reserve selected."""

    def plain(self) -> dict[str, Any]:
        """As JSON has it."""
        return asdict(self)


def early_hands(
    check: Check, judgement: Judgement, events: Sequence[DrillEvent], selector: str
) -> tuple[HandMoved, ...]:
    """Hands on what the item in force at that moment had not asked for."""
    ends = sorted(
        (answer.onset_at, answer.item)
        for answer in judgement.answers
        if not _is_flag(check.item(answer.item))
    )
    return tuple(
        event
        for event in events
        if isinstance(event, HandMoved) and event.switch not in _asked_for(check, ends, event.at, selector)
    )


def figures_of(
    film: Film,
    judgement: Judgement,
    told: DrillTold,
) -> DrillFigures:
    """Count everything."""
    answers = judgement.answers
    early = early_hands(told.check, judgement, told.events, film.setting.airplane.selector.name)
    wasted, minutes = _wasted(film, early, told)
    timed = [answer.seconds for answer in answers if answer.seconds is not None]
    come = [event for event in told.events if isinstance(event, DrillInterrupted)]
    return DrillFigures(
        hidden=len(film.faults),
        caught=len(judgement.caught),
        missed=len(judgement.missed),
        invented=len(judgement.invented),
        answers=len(answers),
        right=sum(answer.verdict is AnswerVerdict.RIGHT for answer in answers),
        hasty=sum(answer.is_hasty for answer in answers),
        undone=sum(answer.verdict is AnswerVerdict.UNDONE for answer in answers),
        put_off=sum(isinstance(entry, PutOff) for entry in told.entries),
        refused_words=sum(isinstance(event, WordsRefused) for event in told.events),
        early_hands=len(early),
        interruptions=len(come),
        interruptions_answered=sum(isinstance(event, InterruptionAnswered) for event in told.events),
        seconds=told.ended_at - told.begun_at,
        allowed_seconds=told.allowed_seconds,
        median_seconds=median(timed) if timed else 0.0,
        ampere_hours=film.ampere_hours,
        wasted_ampere_hours=wasted,
        wasted_minutes=minutes,
    )


@dataclass(frozen=True, slots=True)
class DrillTold:
    """The record of a drill, beside its film."""

    check: Check
    entries: Sequence[Entry]
    events: Sequence[DrillEvent]
    begun_at: float
    ended_at: float
    allowed_seconds: float | None = None


def _asked_for(check: Check, ends: Sequence[tuple[float, str]], at: float, selector: str) -> frozenset[str]:
    """The switches that the item in force, the next to be answered, asks for; at the end all."""
    name = next((item for onset_at, item in ends if onset_at > at), None)
    return frozenset(_switches(check.item(name), selector)) if name is not None else frozenset({selector})


def _is_flag(item: Item) -> bool:
    """A flag is called while another item is in force."""
    return item.body.clock is not None


def _switches(item: Item, selector: str) -> Iterator[str]:
    yield from item.moves
    yield from item.returns
    if item.body.selects is not None:
        yield selector
    yield from item.body.switches or ()


def _wasted(film: Film, early: Sequence[HandMoved], told: DrillTold) -> tuple[float, float]:
    """Ampere-hours of the same drill with those hands and without them, and what that is in minutes."""
    battery, selector = film.setting.airplane.battery.name, film.setting.airplane.selector
    needless = {(event.at, event.switch) for event in early if event.switch != selector.name}
    if not needless:
        return 0.0, 0.0
    kept = [
        event
        for event in told.events
        if not (isinstance(event, HandMoved) and (event.at, event.switch) in needless)
    ]
    setting = replace(film.setting, hidden=())
    spent = shoot(setting, told.begun_at, told.events, told.ended_at).ampere_hours
    needed = shoot(setting, told.begun_at, kept, told.ended_at).ampere_hours
    wasted = max(0.0, spent - needed)
    return wasted, wasted / _reserve_amps(setting, battery) * 60


def _reserve_amps(setting: Setting, battery: str) -> float:
    """What the healthy airplane draws with the reserve selected; never nothing."""
    played = PlayedAirplane(setting)
    played.move(setting.airplane.selector.name, setting.airplane.selector.reserve)
    return max(0.1, played.flow.source_amps[battery])
