"""What a run may have to say, to be rendered before it is needed: the sooner needed, the earlier."""

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from runner.checklist.format.check import Item
from runner.core.ask import prompt
from runner.core.plan import Plan
from runner.core.state import State
from runner.language.breath import Passage
from runner.language.catalogue import SPOKEN_ADVISORY, Outcome, Word
from runner.language.number import spoken_seconds

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
        yield from _out_of_band(item)


def _of_item(item: Item) -> Iterator[Passage]:
    """What is to be done about it, and what is read back; a number out of its band comes later."""
    if item.remedy:
        yield _passage(item.remedy)
    if item.body.clock is not None:
        clock = item.body.clock
        yield _passage(f"{clock.gyro}: {prompt.PAST_LIMIT}")
        yield _passage(f"{clock.gyro}: {spoken_seconds(clock.advise_seconds)}")
    elif item.body.number is None:
        yield _passage(f"holding at {item.challenge}")
    for outcome, said in item.body.read_backs():
        if item.body.number is None or outcome is Outcome.PASS:
            yield _read_back(outcome, said)
            if item.remedy and outcome is Outcome.SQUAWK:
                yield _passage(prompt.ends_no_stop(said))


def _out_of_band(item: Item) -> Iterator[Passage]:
    for outcome, said in () if item.body.number is None else item.body.read_backs():
        if outcome is Outcome.PASS:
            continue
        if outcome is not Outcome.STOP:
            yield _passage(prompt.in_question(outcome, said))
        yield _read_back(outcome, said)


def _waits(gyros: list[str]) -> Iterator[Passage]:
    """One gyro, two of them, and so on to all, in the order of their power-on."""
    for count in range(1, len(gyros) + 1):
        yield from (_passage(prompt.waiting(some)) for some in combinations(gyros, count))


def _passage(*parts: str) -> Passage:
    return Passage(prompt.sentences(*parts))


def _read_back(outcome: Outcome, said: str) -> Passage:
    return Passage(prompt.judged(outcome, said), is_read_back=True)
