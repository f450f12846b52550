"""PURE but for its dice: one invented run of a check, as entries; for demos, tests and benchmarks.

Nothing here was measured on an airplane. Every run that is made from it is marked as invented.
"""

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from runner.checklist.format.check import Check, Item, Response
from runner.checklist.kind.numbered import Numbered
from runner.checklist.lint.branch import applies
from runner.core.answer_origin import AnswerOrigin, Reception
from runner.core.ask.taken_answer import LOOK_SECONDS
from runner.core.event import Channel
from runner.core.record.entry import (
    AnswerRecorded,
    CautionsTaken,
    ClockAdvised,
    ClockEnded,
    ClockLimitPassed,
    ClockStarted,
    ConfirmationAsked,
    Entry,
    RunCompleted,
    RunStarted,
)
from runner.language.catalogue import Outcome


@dataclass(frozen=True, slots=True)
class Morning:
    """What an invented airplane is like on one morning."""

    at: float
    """When the run starts, seconds since the epoch."""
    oat_celsius: float
    spin_up_seconds: Mapping[str, float]
    """For each spin-up item."""
    readings: Mapping[str, float]
    """For each reading."""
    lamp_out_share: float = 0.0
    """Chance that a named item gets something else than its first answer."""


@dataclass(slots=True)
class _Writer:
    """Writes one run, moving its clock forward."""

    check: Check
    morning: Morning
    dice: random.Random
    now: float
    clocks: dict[str, float] = field(default_factory=dict)
    """Running gyros: the item, and when it got power."""
    answers: dict[str, str] = field(default_factory=dict)


def invented_run(check: Check, morning: Morning, dice: random.Random) -> tuple[Entry, ...]:
    """The entries of a completed run: every item that applies is answered, every clock ended."""
    writer = _Writer(check, morning, dice, morning.at)
    return tuple(_written(writer))


def _written(writer: _Writer) -> Iterator[Entry]:
    yield RunStarted(writer.now)
    writer.now += 12.0
    yield CautionsTaken(writer.now)
    last = writer.check.items[-1]
    for item in writer.check.items:
        if not applies(item, writer.answers) or item.body.clock is not None:
            continue
        if item.restores or item is last:
            yield from _ended_clocks(writer, wait=True)
        yield from _answered(writer, item)
    yield RunCompleted(writer.now)


def _answered(writer: _Writer, item: Item) -> Iterator[Entry]:
    writer.now += 1.5 + 0.06 * len(item.challenge)
    waited = writer.dice.lognormvariate(0.6, 0.35)
    onset = writer.now = writer.now + waited
    writer.now += 0.9
    yield from _ended_clocks(writer, wait=False)
    if item.body.number is not None:
        yield from _read(writer, item, item.body.number, onset, waited)
    else:
        response = _named(writer, item)
        yield _answer(writer, item, (response.label, "", response.outcome), onset, waited)
    for clock, body in writer.check.clocks():
        if body.starts_on == item.name:
            writer.clocks[clock.name] = onset
            yield ClockStarted(onset, clock.name)


def _named(writer: _Writer, item: Item) -> Response:
    first, *others = (each for each in item.responses if each.outcome is not Outcome.STOP)
    if others and writer.dice.random() < writer.morning.lamp_out_share:
        return writer.dice.choice(others)
    return first


def _read(writer: _Writer, item: Item, body: Numbered, onset: float, waited: float) -> Iterator[Entry]:
    number = body.nearest_harmless(Decimal(writer.morning.readings[item.name]).quantize(body.resolution))
    outcome = body.outcome(number)
    if outcome is not Outcome.PASS:
        origin = AnswerOrigin(onset, waited, _is_hasty(item, waited), _by_voice(str(number), 0.97))
        yield ConfirmationAsked(writer.now, item.name, number, origin)
        writer.now += 4.0
    yield _answer(writer, item, (str(number), body.unit.value, outcome), onset, waited)


def _is_hasty(item: Item, waited: float) -> bool:
    return item.looks and waited < LOOK_SECONDS


def _by_voice(words: str, confidence: float) -> Reception:
    return Reception(words, confidence, Channel.VOICE.value)


def _answer(
    writer: _Writer, item: Item, given: tuple[str, str, Outcome], onset: float, waited: float
) -> AnswerRecorded:
    words, unit, outcome = given
    writer.answers[item.name] = words
    heard = _by_voice(words, round(writer.dice.uniform(0.9, 0.99), 3))
    origin = AnswerOrigin(onset, round(waited, 3), _is_hasty(item, waited), heard)
    return AnswerRecorded(writer.now, item.name, words, unit, outcome, origin)


def _ended_clocks(writer: _Writer, *, wait: bool) -> Iterator[Entry]:
    ends = sorted(
        (started + writer.morning.spin_up_seconds[name], name) for name, started in writer.clocks.items()
    )
    for ends_at, name in ends:
        if not wait and ends_at > writer.now:
            return
        yield from _ended(writer, name, ends_at)
        writer.now = max(writer.now, ends_at)


def _ended(writer: _Writer, name: str, ends_at: float) -> Iterator[Entry]:
    body = writer.check.item(name).body.clock
    if body is None:
        return
    started = writer.clocks.pop(name)
    seconds = ends_at - started
    if seconds > body.advise_seconds:
        yield ClockAdvised(started + body.advise_seconds, name)
    if seconds > body.limit_seconds:
        yield ClockLimitPassed(started + body.limit_seconds, name)
    yield ClockEnded(
        at=ends_at,
        item=name,
        seconds=round(seconds, 2),
        is_pulled=True,
        outcome=body.outcome(seconds),
        reception=_by_voice(body.pulled.phrases[0], 0.96),
    )
