"""Every sentence that a run speaks: plain words of our own, numbers digit by digit as they are read back."""

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from runner.checklist.format.check import Item
from runner.core.ask.agenda import item_at_hand, item_in_force, number_of, state_of, unreturned
from runner.core.record.entry import AnswerRecorded, ClockEnded, ConfirmationAsked, Stopped
from runner.core.record.progress import Progress
from runner.core.record.run_summary import summarise
from runner.core.record.spin_up_clock import SpinUpClock
from runner.core.state import State
from runner.language.catalogue import SPOKEN_ADVISORY, Noun, Outcome, Unit, Word
from runner.language.digit import spell
from runner.language.number import readback, spoken_seconds

KEYS: Final = "Use the keys, or say again"
SAY_AGAIN: Final = "Say again"
NO_CORRECTION: Final = "Nothing to correct"
NOTHING_ELSE: Final = "Nothing else can be asked before it. Answer it, or say unable"
CLOCKS_END: Final = "A clock ends with its own phrase"
TOO_LOUD: Final = "Too loud to hear you. Use the keys"
QUIET: Final = "Listening again"
MIC_LOST: Final = "No sound from the microphone. Use the keys"
MIC_BACK: Final = "The microphone is back"
EAR_LOST: Final = "The ear has failed. Use the keys"
SCREEN_LOST: Final = "The screen has failed"
RECORD_LOST: Final = "The record cannot be written. The run stops here"
RESTORE_YOURSELF: Final = "Put back yourself what is still out"
SET_BACK: Final = "The computer's clock was set back. How long this run was stopped is not known"
RESTARTED: Final = "Restarted"
NOTED: Final = "Noted"
TYPE_NOTE: Final = "type the note"
NOT_NOTED: Final = "No note was recorded"
NOTHING_DONE: Final = "Nothing is completed yet"
NO_REASON: Final = "No reason is given"
RESTORE_FIRST: Final = "The check is abandoned. What was moved comes back first"
CORRECTION: Final = "Correction"
CONTINUING: Final = "continuing"
ABANDON: Final = "Abandon the check?"
PAST_LIMIT: Final = "past the limit. Pulled, or stuck?"
AFFIRM: Final = "Affirm or negative"
REMINDER: Final = "When you are ready"
"""Said once in a silence, in front of the question."""
RETRY: Final = "Say continue to try again, or abandon check"
MOST_SQUAWKS: Final = 3
"""So many open squawks are told one by one."""
SQUAWKED: Final = "On record as a squawk"


def sentences(*parts: str) -> str:
    """The parts that are not empty, each ended by a mark, with a capital."""
    full = (part.strip() for part in parts if part.strip())
    return " ".join(f"{part[0].upper()}{part[1:]}" + ("" if part[-1] in ".?!" else ".") for part in full)


def question(progress: Progress) -> str:
    """What the run asks in the state that it has come to; empty where nothing is asked."""
    state = state_of(progress)
    if state in ASKS:
        return TYPE_NOTE if state is State.NOTING and not progress.may_record else ASKS[state]
    if state is State.CONFIRMING and progress.pending is not None:
        return _confirmation(progress, progress.pending)
    if state is State.WAITING:
        return waiting([gyro(progress, clock.item) for clock in progress.open_clocks])
    if state in (State.COMPLETE, State.ABANDONED):
        return completion(progress)
    item = item_in_force(progress)
    if state is State.STOPPED and item is not None:
        return sentences(item.remedy, RETRY if item_at_hand(progress) is None else item.challenge)
    return item.challenge if item is not None else ""


ASKS: Final = {
    State.READY: "",
    State.BRIEFING: "say continue",
    State.HOLDING: "say continue to go on",
    State.NOTING: "recording",
}


def restart(progress: Progress) -> str:
    """Asks whether the open clocks are to begin anew."""
    names = [gyro(progress, clock.item) for clock in progress.open_clocks]
    return f"Restart the clock of {' and '.join(names) or 'nothing'}?"


def stopping(progress: Progress) -> str:
    """Said when the record cannot be written: the run stops, and a selector that is out has to come back."""
    items = tuple(item.challenge for item in unreturned(progress))
    return sentences(RECORD_LOST, *((RESTORE_YOURSELF, *items) if items else ()))


def challenge(progress: Progress, name: str) -> str:
    """The challenge of an item by its name."""
    return progress.plan.check.item(name).challenge


def waiting(gyros: Sequence[str]) -> str:
    """Names the gyros that are waited for."""
    return f"waiting for {' and '.join(gyros)}"


def gyro(progress: Progress, name: str) -> str:
    """The gyro that a spin-up item is about; the item's challenge where it is no spin-up."""
    item = progress.plan.check.item(name)
    return item.challenge if item.body.clock is None else item.body.clock.gyro


def cautions(progress: Progress, *, in_full: bool = False) -> str:
    """The check's title, its cautions, and the airplane's open squawks.

    Who has heard the cautions of this version before is told so in one sentence, but `in_full`.
    """
    plan = progress.plan
    is_known = plan.has_heard_cautions and len(plan.check.cautions) > 1 and not in_full
    told = (cautions_stand(len(plan.check.cautions)),) if is_known else plan.check.cautions
    return sentences(plan.check.title, *told, *open_squawks(plan.open_squawks))


def cautions_stand(count: int) -> str:
    """The cautions in one sentence, for who has heard them."""
    return f"The {spell(str(count))} cautions stand as before, say again for all"


def open_squawks(squawks: Sequence[str]) -> tuple[str, ...]:
    """What is open on the airplane: a sentence each, three at most, and how many more there are."""
    told = tuple(f"Open squawk: {squawk}" for squawk in squawks[:MOST_SQUAWKS])
    more = len(squawks) - len(told)
    return (*told, f"And {spell(str(more))} more") if more else told


def read_back(progress: Progress, answer: AnswerRecorded) -> str:
    """A value in full; a named answer where it is a caution or a squawk, with that word; else nothing."""
    if not answer.unit and answer.outcome is Outcome.PASS:
        return ""
    return judged(answer.outcome, _answer(progress, answer))


def stopped(progress: Progress, found: Stopped) -> str:
    """What is wrong, behind the word stop; what to do about it is said with the question."""
    return judged(Outcome.STOP, _answer(progress, found))


def ends_no_stop(said: str) -> str:
    """Why a word or an answer is not taken while a stop stands."""
    return f"{said} does not end the stop"


def clock_ended(progress: Progress, ended: ClockEnded) -> str:
    """A gyro's time, with the word caution or squawk where it is one."""
    return judged(ended.outcome, f"{gyro(progress, ended.item)}, {_clock_answer(progress, ended)}")


def judged(outcome: Outcome, said: str) -> str:
    """What is read back, behind the word caution, squawk or stop where it is one."""
    return sentences(said if outcome is Outcome.PASS else f"{outcome.value}, {said}")


def in_question(outcome: Outcome, value: str) -> str:
    """A value out of its band, to be confirmed."""
    return f"{value} is a {outcome.value}. {AFFIRM}"


def last_completed(progress: Progress) -> str:
    """The last completed item with its answer: repeated after an interruption (FSF ALAR BN 1.5)."""
    name = progress.last_done if progress.are_cautions_taken else None
    if name is None:
        return ""
    return f"{gyro(progress, name)}: {_completion_of(progress, name)}"


def continuing(progress: Progress) -> str:
    """Said after a hold or when a run is reopened, in front of what was completed last and the question."""
    if not progress.are_cautions_taken:
        return cautions(progress)
    return CONTINUING


def holding(progress: Progress) -> str:
    """Names the item at which the check is held."""
    item = item_in_force(progress)
    return "holding" if item is None or not progress.are_cautions_taken else f"holding at {item.challenge}"


def advice(progress: Progress, clock: SpinUpClock, at: float) -> str:
    """Said at the advise time, and when the limit has passed."""
    name = gyro(progress, clock.item)
    if clock.is_limit_passed:
        return f"{name}: {PAST_LIMIT}"
    return sentences(f"{name}: {spoken_seconds(clock.elapsed(at))}", challenge(progress, clock.item))


def refusal(item: Item, word: Word) -> str:
    """Why a critical item can be neither put off nor left undone (NASA CR-177549 App. A no. 15)."""
    return f"{word.value} refused: {item.challenge} is critical"


def unable(item: Item) -> str:
    """Says that the item stays undone."""
    return f"unable, {item.challenge}"


def put_off(item: Item) -> str:
    """Says that the item will come back."""
    return f"put off, {item.challenge}"


def no_answer(word: Word) -> str:
    """A word that answers nothing, such as roger (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    return f"{word.value} does not answer"


def battery(share: float) -> str:
    """How much of the battery this check has used."""
    percent = Decimal(share * 100).quantize(Decimal(1), ROUND_HALF_UP)
    return f"caution, battery: this check has used {readback(percent, Unit.PERCENT, Decimal(1))}"


def completion(progress: Progress) -> str:
    """The end of the run with its counts; it never judges the airplane."""
    summary = summarise(progress)
    counts = (
        _counted(len(summary.stops), Noun.STOP) if summary.stops else "",
        _counted(len(summary.squawks), Noun.SQUAWK),
        _counted(len(summary.cautions), Noun.CAUTION),
        _counted(len(summary.unable), Noun.ITEM, "not done") if summary.unable else "",
    )
    ending = "check complete" if summary.is_complete else "check abandoned"
    return sentences(ending, ", ".join(count for count in counts if count), SPOKEN_ADVISORY)


def _confirmation(progress: Progress, pending: ConfirmationAsked) -> str:
    if pending.number is None:
        return f"{restart(progress) if pending.item else ABANDON} {AFFIRM}"
    number = number_of(progress, pending.item)
    return in_question(number.outcome(pending.number), number.spoken(pending.number))


def _completion_of(progress: Progress, name: str) -> str:
    if name in progress.unable:
        return Word.UNABLE.value
    if name in progress.answers:
        return _answer(progress, progress.answers[name])
    ended = progress.clocks[name].ended
    return "" if ended is None else _clock_answer(progress, ended)


def _answer(progress: Progress, answer: AnswerRecorded | Stopped) -> str:
    return progress.plan.check.item(answer.item).body.said(answer.answer)


def _clock_answer(progress: Progress, ended: ClockEnded) -> str:
    clock = progress.plan.check.item(ended.item).body.clock
    return "" if clock is None else clock.ended(ended.seconds, is_pulled=ended.is_pulled)


def _counted(number: int, noun: Noun, after: str = "") -> str:
    words = "no" if number == 0 else spell(str(number))
    return f"{words} {noun.of(number)} {after}".strip()
