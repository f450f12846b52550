"""What standard words do; in which state each does what stands in the table (`table.py`)."""

from dataclasses import replace
from typing import Final

from runner.core.answer_origin import AnswerOrigin
from runner.core.ask import prompt
from runner.core.ask.agenda import is_critical, item_at_hand, item_in_force
from runner.core.ask.alert import late_clocks
from runner.core.ask.taken_answer import confirmed
from runner.core.ask.taken_back import correctable, taken_back
from runner.core.event import Answered
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.record.entry import (
    AbandonStarted,
    CautionsTaken,
    ClockStarted,
    ConfirmationAsked,
    ConfirmationDropped,
    DeclaredUnable,
    Entry,
    Held,
    NoteStarted,
    PutOff,
    Released,
    Reopened,
    StopRetried,
    StopSquawked,
)
from runner.language.catalogue import Word

WAY: Final = " > "
"""Stands between the parts of a current's way in a written reason; no voice can say it."""


def take_cautions(_moment: Moment, event: Answered, _word: Word) -> Reply:
    """They were heard: the check begins."""
    return Reply((CautionsTaken(event.at),))


def say_all_cautions(moment: Moment, _event: Answered, _word: Word) -> Reply:
    """All of them, also for who has heard them before."""
    said = prompt.sentences(prompt.cautions(moment.progress, in_full=True), prompt.question(moment.progress))
    return Reply(preface=said, is_repetition=True)


def say_again(moment: Moment, _event: Answered, _word: Word) -> Reply:
    """All of the last transmission, word for word."""
    said = moment.turn.transmission
    return Reply(preface=said, is_repetition=bool(said))


def speak_slower(moment: Moment, event: Answered, word: Word) -> Reply:
    """From now on all is said at the pace of a read-back; what was said last is said so again."""
    slower = replace(moment.turn.manner, is_slower=True)
    return replace(say_again(moment, event, word), manner=slower)


def say_twice(moment: Moment, _event: Answered, _word: Word) -> Reply:
    """From now on each question is said twice, beginning with the one at hand."""
    return Reply(manner=replace(moment.turn.manner, is_twice=True))


def confirm(moment: Moment, event: Answered, word: Word) -> Reply:
    """Repeat what was received last: the reading or answer that stopped the run, else what was completed."""
    stop = moment.progress.stop
    if stop is not None and not moment.progress.is_returning:
        return Reply(read_back=prompt.stopped(moment.progress, stop.found))
    return read_back(moment, event, word)


def hold(moment: Moment, event: Answered, _word: Word) -> Reply:
    """Hold at the item in force."""
    return Reply((Held(event.at),), prompt.holding(moment.progress))


def answer_nothing(_moment: Moment, _event: Answered, word: Word) -> Reply:
    """Say so, and ask again."""
    return Reply(preface=prompt.no_answer(word), is_refusal=True)


def correct(moment: Moment, event: Answered, _word: Word) -> Reply:
    """Take back a stop that nothing was done about yet, else reopen what was completed last."""
    name = correctable(moment.progress)
    if not name:
        return Reply(preface=prompt.NO_CORRECTION, is_refusal=True)
    return reopen(moment, event, name)


def deny(moment: Moment, event: Answered, word: Word) -> Reply:
    """Reopen what this turn read back; otherwise the word answers nothing."""
    if not moment.turn.reads_back:
        return answer_nothing(moment, event, word)
    return reopen(moment, event, moment.turn.reads_back)


def reopen(moment: Moment, event: Answered, name: str) -> Reply:
    """The last answer of the item is superseded and asked for anew; a clock runs on from its own start."""
    is_clock = name in moment.progress.clocks
    running = f", {prompt.gyro(moment.progress, name)} runs on" if is_clock else ""
    return Reply((taken_back(moment.progress, name, event.at),), prompt.CORRECTION + running)


def declare_unable(moment: Moment, event: Answered, word: Word) -> Reply:
    """The item cannot be done; refused for a critical one."""
    item = item_at_hand(moment.progress)
    if item is None:
        return Reply(preface=prompt.CLOCKS_END, is_refusal=True)
    if is_critical(item):
        return Reply(preface=prompt.refusal(item, word), is_refusal=True)
    return Reply((DeclaredUnable(event.at, item.name),), prompt.unable(item))


def put_off(moment: Moment, event: Answered, word: Word) -> Reply:
    """The item comes back later; refused for a critical one, and where nothing else can be asked first."""
    item = item_at_hand(moment.progress)
    if item is None:
        return Reply(preface=prompt.CLOCKS_END, is_refusal=True)
    if is_critical(item):
        return Reply(preface=prompt.refusal(item, word), is_refusal=True)
    entry = PutOff(event.at, item.name)
    if item_in_force(moment.progress.after(entry)) == item:
        return Reply(preface=prompt.NOTHING_ELSE, is_refusal=True)
    return Reply((entry,), prompt.put_off(item))


def read_back(moment: Moment, _event: Answered, _word: Word) -> Reply:
    """The last completed item with its answer."""
    said = prompt.last_completed(moment.progress)
    return Reply(preface="" if said else prompt.NOTHING_DONE, read_back=said, is_refusal=not said)


def explain(moment: Moment, _event: Answered, _word: Word) -> Reply:
    """The reason of the item, or of the first gyro that is waited for."""
    name = _subject(moment)
    why = moment.progress.plan.check.item(name).why if name else ""
    return Reply(preface=why.replace(WAY, ", ") or prompt.NO_REASON, is_refusal=not why)


def start_note(moment: Moment, event: Answered, _word: Word) -> Reply:
    """Record what is said next, or what is typed where no microphone is."""
    return Reply((NoteStarted(event.at, _subject(moment)),))


def ask_abandon(moment: Moment, event: Answered, _word: Word) -> Reply:
    """Ask whether to abandon; a value that waits for its confirmation is dropped."""
    if moment.progress.is_abandoning:
        return Reply(preface=prompt.RESTORE_FIRST)
    pending = moment.progress.pending
    dropped: tuple[Entry, ...] = () if pending is None else (ConfirmationDropped(event.at, pending.item),)
    origin = AnswerOrigin(event.onset_at, None, is_hasty=False, reception=event.reception)
    return Reply((*dropped, ConfirmationAsked(event.at, "", None, origin)))


def _subject(moment: Moment) -> str:
    """The item that "why" and "note" are about; empty where there is none."""
    item = item_at_hand(moment.progress) or item_in_force(moment.progress)
    if item is not None:
        return item.name
    return next((clock.item for clock in moment.progress.open_clocks), "")


def affirm(moment: Moment, event: Answered, _word: Word) -> Reply | None:
    """Yes: the value is recorded, the clocks begin anew, or the check is abandoned."""
    pending = moment.progress.pending
    if pending is None:
        return None
    if pending.number is None and pending.item:
        restarted = (ClockStarted(event.at, clock.item) for clock in moment.progress.open_clocks)
        return Reply((ConfirmationDropped(event.at, pending.item), *restarted), prompt.RESTARTED)
    if pending.number is None:
        return Reply((AbandonStarted(event.at),))
    return confirmed(moment, event, pending, pending.number)


def repeat_question(_moment: Moment, _event: Answered, _word: Word) -> Reply:
    """What was received, with its question: it repeats and takes nothing (ICAO Annex 10 Vol II 5.2.1.5.8)."""
    return Reply()


def drop(moment: Moment, event: Answered, _word: Word) -> Reply | None:
    """No: what waited for a yes is as if it had not been said."""
    pending = moment.progress.pending
    return None if pending is None else Reply((ConfirmationDropped(event.at, pending.item),))


def release(moment: Moment, event: Answered, _word: Word) -> Reply:
    """Go on after a hold, with what was completed last and the late clocks first."""
    spoken = prompt.continuing(moment.progress)
    done = prompt.last_completed(moment.progress)
    return Reply((Released(event.at),), spoken, done, alerts=late_clocks(moment.progress))


def release_and_ask_abandon(moment: Moment, event: Answered, word: Word) -> Reply:
    """A hold ends with it."""
    reply = ask_abandon(moment, event, word)
    return replace(reply, entries=(Released(event.at), *reply.entries))


def refuse(_moment: Moment, _event: Answered, word: Word) -> Reply:
    """It does not end a stop."""
    return Reply(preface=prompt.ends_no_stop(word.value), is_refusal=True)


def retry(moment: Moment, event: Answered, word: Word) -> Reply | None:
    """Where everything was put back for the stop, what it takes is asked again, and then the reading."""
    progress = moment.progress
    stop = progress.stop
    if stop is None:
        return None
    if not stop.movers:
        return refuse(moment, event, word)
    done = [name for name in stop.movers if name in progress.answers or name in progress.unable]
    reopened: list[Entry] = [Reopened(event.at, name) for name in reversed(done)]
    return Reply((*reopened, StopRetried(event.at, stop.item)), prompt.CONTINUING)


def squawk_stop(moment: Moment, event: Answered, _word: Word) -> Reply | None:
    """On record for maintenance, once a stop; the stop stays."""
    stop = moment.progress.stop
    if stop is None:
        return None
    if stop.squawked_at is not None:
        return Reply(preface=prompt.SQUAWKED)
    found = stop.found
    return Reply((StopSquawked(event.at, stop.item, found.answer, found.unit),), prompt.SQUAWKED)
