"""What a run may have to say, to be rendered before it is needed: the sooner needed, the earlier."""

from collections.abc import Iterator
from itertools import combinations
from math import ceil
from typing import Final

from runner.checklist.format.check import Item, Outcome, Reading, SpinUp
from runner.core.ask import prompt
from runner.core.plan import Plan
from runner.core.record.spin_up_clock import spin_up_outcome
from runner.core.state import State
from runner.language.breath import Passage
from runner.language.catalogue import SPOKEN_ADVISORY
from runner.language.meaning import Word
from runner.language.number import readback, values

FIXED: Final = (
    prompt.SAY_AGAIN,
    prompt.CORRECTION,
    prompt.CONTINUING,
    prompt.ASKS[State.HOLDING],
    prompt.KEYS,
    *(prompt.no_answer(word) for word in (Word.ROGER, Word.AFFIRM, Word.NEGATIVE)),
    prompt.ABANDON,
    prompt.AFFIRM,
    SPOKEN_ADVISORY,
    prompt.TOO_LOUD,
    prompt.QUIET,
    prompt.MIC_LOST,
    prompt.MIC_BACK,
    prompt.NOTED,
    prompt.ASKS[State.NOTING],
    prompt.TYPE_NOTE,
    prompt.NOTHING_ELSE,
    prompt.CLOCKS_END,
    prompt.NO_CORRECTION,
    prompt.RESTORE_FIRST,
    prompt.REMINDER,
    prompt.RETRY,
    prompt.SQUAWKED,
    *(prompt.ends_no_stop(word) for word in (Word.CONTINUE, Word.UNABLE, Word.PUT_OFF)),
)
"""Sentences of every check."""


def upcoming_prompts(plan: Plan) -> Iterator[Passage]:
    """Prompts, one or more sentences each, in the spelling in which the machine says them.

    Challenges come first, then what is the same for every check, then read-backs: values in their pass
    band, named discrepancies, times of gyros up to their limit, and what is said of them meanwhile.
    """
    check = plan.check
    told = prompt.open_squawks(plan.open_squawks)
    stand = prompt.cautions_stand(len(check.cautions)) if plan.has_heard_cautions else ""
    yield _passage(prompt.ASKS[State.BRIEFING], check.title, stand, *told, *check.cautions)
    yield from (_passage(item.challenge) for item in check.items)
    yield from (_passage(fixed) for fixed in FIXED)
    for item in check.items:
        yield from _of_item(item)
    yield from _waits([body.gyro for _, body in check.clocks()])
    for item in check.items:
        if isinstance(item.body, Reading):
            yield from _out_of_band(item.body)


def _of_item(item: Item) -> Iterator[Passage]:
    if item.remedy:
        yield _passage(item.remedy)
    if isinstance(item.body, Reading):
        yield from _in_band(item.body)
    elif isinstance(item.body, SpinUp):
        yield from _of_clock(item.body)
    else:
        yield _passage(f"holding at {item.challenge}")
        for response in item.responses:
            if response.outcome is not Outcome.PASS:
                yield _read_back(response.outcome, response.label)
            if item.remedy and response.outcome is Outcome.SQUAWK:
                yield _passage(prompt.ends_no_stop(response.label))


def _of_clock(body: SpinUp) -> Iterator[Passage]:
    yield _passage(f"{body.gyro}: {prompt.PAST_LIMIT}")
    yield _passage(f"{body.gyro}: {prompt.seconds(body.advise_seconds)}")
    for seconds in range(1, ceil(body.limit_seconds) + 1):
        outcome = spin_up_outcome(body, seconds, is_pulled=True)
        yield _read_back(outcome, f"{body.gyro}, {prompt.seconds(seconds)}")


def _in_band(reading: Reading) -> Iterator[Passage]:
    for number in values(reading):
        if reading.outcome(number) is Outcome.PASS:
            yield _read_back(Outcome.PASS, readback(number, reading.unit, reading.resolution))


def _out_of_band(reading: Reading) -> Iterator[Passage]:
    for number in values(reading):
        outcome = reading.outcome(number)
        if outcome is Outcome.PASS:
            continue
        value = readback(number, reading.unit, reading.resolution)
        if outcome is not Outcome.STOP:
            yield _passage(prompt.in_question(outcome, value))
        yield _read_back(outcome, value)


def _waits(gyros: list[str]) -> Iterator[Passage]:
    """One gyro, two of them, and so on to all, in the order of their power-on."""
    for count in range(1, len(gyros) + 1):
        yield from (_passage(prompt.waiting(some)) for some in combinations(gyros, count))


def _passage(*parts: str) -> Passage:
    return Passage(prompt.sentences(*parts))


def _read_back(outcome: Outcome, said: str) -> Passage:
    return Passage(prompt.judged(outcome, said), is_read_back=True)
