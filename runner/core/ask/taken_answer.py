"""Answers to an item: judged, timed, recorded, and read back where a number or a discrepancy is in them."""

from dataclasses import replace
from decimal import Decimal
from typing import Final

from runner.checklist.format.check import Item
from runner.core.answer_origin import AnswerOrigin
from runner.core.ask import prompt
from runner.core.ask.agenda import item_at_hand, number_of, state_of
from runner.core.ask.taken_back import corrected_item, correction
from runner.core.event import Answered
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.record.entry import AnswerRecorded, ConfirmationAsked, Stopped
from runner.core.state import State
from runner.language.catalogue import Outcome
from runner.language.meaning import Corrected, Picked, Value

LOOK_SECONDS: Final = 1.0
"""An answer that came faster cannot have been looked for (NTSB/AAR-89/04: "less than one second")."""


def take_pick(moment: Moment, event: Answered, meaning: Picked) -> Reply | None:
    """A named response of the item in force; at a stop none that fails."""
    item = item_at_hand(moment.progress)
    if item is None or item.name != meaning.item:
        return None
    for response in item.responses:
        if response.label == meaning.label:
            if moment.state is State.STOPPED and response.outcome is Outcome.SQUAWK:
                return Reply(preface=prompt.ends_no_stop(response.label))
            answer = _answer(moment, event, item, answer=response.label, outcome=response.outcome, unit="")
            return record(moment, answer)
    return None


def take_value(moment: Moment, event: Answered, meaning: Value) -> Reply | None:
    """A number for the reading in force: taken in its pass band and where it stops, else to be confirmed."""
    item = item_at_hand(moment.progress)
    number = None if item is None or item.name != meaning.item else item.body.number
    if item is None or number is None:
        return None
    if meaning.number not in number.plausible:
        return Reply(preface=prompt.SAY_AGAIN, is_miss=True)
    outcome = number.outcome(meaning.number)
    answer = _answer(
        moment, event, item, answer=f"{meaning.number:f}", outcome=outcome, unit=number.unit.value
    )
    if outcome in (Outcome.PASS, Outcome.STOP):
        return record(moment, answer)
    return Reply((ConfirmationAsked(answer.at, answer.item, meaning.number, answer.origin),))


def correct_at_once(moment: Moment, event: Answered, meaning: Corrected) -> Reply | None:
    """The last answer is taken back and the new one taken, judged and confirmed as if it had been asked for.

    Whatever it is, it is read back behind its challenge, so that it may be denied.
    """
    progress, answer = moment.progress, meaning.answer
    back, item = correction(progress, event.at), corrected_item(progress)
    if back is None or item is None or item.name != answer.item:
        return None
    asked = progress.after(back)
    then = replace(moment, progress=asked, state=state_of(asked))
    if isinstance(answer, Picked):
        reply, heard = take_pick(then, event, answer), prompt.sentences(answer.label)
    else:
        reply, heard = take_value(then, event, answer), ""
    if reply is None or not reply.entries:
        return reply
    is_taken = not isinstance(reply.entries[-1], ConfirmationAsked)
    return replace(
        reply,
        entries=(back, *reply.entries),
        preface=prompt.sentences(prompt.CORRECTION, item.challenge),
        read_back=reply.read_back or heard,
        reads_back=item.name if is_taken else "",
    )


def confirmed(moment: Moment, event: Answered, pending: ConfirmationAsked, number: Decimal) -> Reply:
    """The value that waited is recorded with the onset and the timing of its own answer."""
    body = number_of(moment.progress, pending.item)
    words, outcome = f"{number:f}", body.outcome(number)
    answer = AnswerRecorded(event.at, pending.item, words, body.unit.value, outcome, pending.origin)
    return record(moment, answer)


def record(moment: Moment, answer: AnswerRecorded) -> Reply:
    """The answer goes on record; what is read back may be denied in the next breath."""
    if answer.outcome is Outcome.STOP:
        return _stop(moment, answer)
    spoken = prompt.read_back(moment.progress, answer)
    return Reply((answer,), read_back=spoken, reads_back=answer.item if spoken else "")


def _stop(moment: Moment, answer: AnswerRecorded) -> Reply:
    """The run stays at the item: no answer of it, and no squawk, goes on record."""
    stopped = Stopped(answer.at, answer.item, answer.answer, answer.unit, answer.origin)
    remedy = moment.progress.plan.check.item(answer.item).remedy if moment.progress.is_abandoning else ""
    spoken = prompt.stopped(moment.progress, stopped)
    return Reply((stopped,), read_back=spoken, remark=remedy, reads_back=answer.item)


def response_seconds(moment: Moment, event: Answered) -> float | None:
    """From the end of the challenge to the onset of the answer; None when it came before that end.

    And None for a correction in one breath, for which nothing was asked.
    """
    if isinstance(event.meaning, Corrected):
        return None
    turn = moment.turn if event.turn == moment.turn.number else moment.before
    if turn is None or turn.asked_at is None or event.onset_at < turn.asked_at:
        return None
    return round(event.onset_at - turn.asked_at, 3)


def _answer(
    moment: Moment, event: Answered, item: Item, *, answer: str, outcome: Outcome, unit: str
) -> AnswerRecorded:
    seconds = response_seconds(moment, event)
    is_asked = not isinstance(event.meaning, Corrected)
    is_hasty = is_asked and item.looks and (seconds is None or seconds < LOOK_SECONDS)
    origin = AnswerOrigin(event.onset_at, seconds, is_hasty, event.reception)
    return AnswerRecorded(event.at, item.name, answer, unit, outcome, origin)
