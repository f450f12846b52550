"""Standard words: what each does where a question is open. States with other ways replace rows of WORDS."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Final

from runner.core.answer_origin import AnswerOrigin
from runner.core.ask import prompt
from runner.core.ask.agenda import is_critical, item_in_force
from runner.core.ask.phrases_now import item_at_hand
from runner.core.event import Answered
from runner.core.grid.grid_reply import Moment, Reply
from runner.core.record.entry import (
    Cause,
    ConfirmationAsked,
    ConfirmationDropped,
    DeclaredUnable,
    Entry,
    Held,
    NoteStarted,
    PutOff,
    Reopened,
    StopWithdrawn,
)
from runner.core.record.move import switches_returned
from runner.language.meaning import Command, Word

WAY: Final = " > "
"""Stands between the parts of a current's way in a written reason; no voice can say it."""

WordAction = Callable[[Moment, Answered, Word], Reply | None]
"""What a word does; None when it is not meant for the tool."""


def take_word(
    moment: Moment, event: Answered, meaning: Command, words: Mapping[Word, WordAction]
) -> Reply | None:
    """Do what the word means in this state."""
    return words[meaning.word](moment, event, meaning.word)


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
    return Reply(preface=prompt.no_answer(word))


def correct(moment: Moment, event: Answered, _word: Word) -> Reply:
    """Take back a stop that nothing was done about yet, else reopen what was completed last.

    In an abandoned check that is only what returns something.
    """
    progress = moment.progress
    stop, name = progress.stop, progress.last_done
    if stop is not None and not progress.is_abandoning and len(progress.done) <= stop.done:
        return reopen(moment, event, stop.item)
    if name is None or (progress.is_abandoning and not switches_returned(progress.plan.check.item(name))):
        return Reply(preface=prompt.NO_CORRECTION)
    return reopen(moment, event, name)


def deny(moment: Moment, event: Answered, word: Word) -> Reply:
    """Reopen what this turn read back; otherwise the word answers nothing."""
    if not moment.turn.reads_back:
        return answer_nothing(moment, event, word)
    return reopen(moment, event, moment.turn.reads_back)


def reopen(moment: Moment, event: Answered, name: str) -> Reply:
    """The last answer of the item is superseded and asked for anew; a clock runs on from its own start."""
    stop = moment.progress.stop
    if stop is not None and stop.item == name:
        return Reply((StopWithdrawn(event.at, name),), prompt.CORRECTION)
    is_clock = name in moment.progress.clocks
    running = f", {prompt.gyro(moment.progress, name)} runs on" if is_clock else ""
    return Reply((Reopened(event.at, name),), prompt.CORRECTION + running)


def declare_unable(moment: Moment, event: Answered, word: Word) -> Reply:
    """The item cannot be done; refused for a critical one."""
    item = item_at_hand(moment.progress)
    if item is None:
        return Reply(preface=prompt.CLOCKS_END)
    if is_critical(item):
        return Reply(preface=prompt.refusal(item, word))
    return Reply((DeclaredUnable(event.at, item.name),), prompt.unable(item))


def put_off(moment: Moment, event: Answered, word: Word) -> Reply:
    """The item comes back later; refused for a critical one, and where nothing else can be asked first."""
    item = item_at_hand(moment.progress)
    if item is None:
        return Reply(preface=prompt.CLOCKS_END)
    if is_critical(item):
        return Reply(preface=prompt.refusal(item, word))
    entry = PutOff(event.at, item.name)
    if item_in_force(moment.progress.after(entry)) == item:
        return Reply(preface=prompt.NOTHING_ELSE)
    return Reply((entry,), prompt.put_off(item))


def read_back(moment: Moment, _event: Answered, _word: Word) -> Reply:
    """The last completed item with its answer."""
    said = prompt.last_completed(moment.progress)
    return Reply(preface="" if said else prompt.NOTHING_DONE, read_back=said)


def explain(moment: Moment, _event: Answered, _word: Word) -> Reply:
    """The reason of the item, or of the first gyro that is waited for."""
    name = subject(moment)
    why = moment.progress.plan.check.item(name).why if name else ""
    return Reply(preface=why.replace(WAY, ", ") or prompt.NO_REASON)


def start_note(moment: Moment, event: Answered, _word: Word) -> Reply:
    """Record what is said next, if there is a microphone."""
    if moment.progress.is_deaf or Cause.MIC_LOST in moment.progress.hindrances:
        return Reply(preface=prompt.NO_MIC)
    return Reply((NoteStarted(event.at, subject(moment)),))


def ask_abandon(moment: Moment, event: Answered, _word: Word) -> Reply:
    """Ask whether to abandon; a value that waits for its confirmation is dropped."""
    if moment.progress.is_abandoning:
        return Reply(preface=prompt.RESTORE_FIRST)
    pending = moment.progress.pending
    dropped: tuple[Entry, ...] = () if pending is None else (ConfirmationDropped(event.at, pending.item),)
    origin = AnswerOrigin(event.onset_at, None, is_hasty=False, reception=event.reception)
    return Reply((*dropped, ConfirmationAsked(event.at, "", None, origin)))


def subject(moment: Moment) -> str:
    """The item that "why" and "note" are about; empty where there is none."""
    item = item_at_hand(moment.progress) or item_in_force(moment.progress)
    if item is not None:
        return item.name
    return next((clock.item for clock in moment.progress.open_clocks), "")


def with_release(reply: Reply, released: Entry) -> Reply:
    """The reply, after the hold is given up."""
    return replace(reply, entries=(released, *reply.entries))


WORDS: Final[Mapping[Word, WordAction]] = {
    Word.SAY_AGAIN: say_again,
    Word.STANDBY: hold,
    Word.CONTINUE: answer_nothing,
    Word.CORRECTION: correct,
    Word.DISREGARD: deny,
    Word.NEGATIVE: deny,
    Word.AFFIRM: answer_nothing,
    Word.CONFIRM: confirm,
    Word.UNABLE: declare_unable,
    Word.READ_BACK: read_back,
    Word.SPEAK_SLOWER: speak_slower,
    Word.WORDS_TWICE: say_twice,
    Word.ROGER: answer_nothing,
    Word.WHY: explain,
    Word.NOTE: start_note,
    Word.PUT_OFF: put_off,
    Word.ABANDON: ask_abandon,
    Word.SQUAWK: answer_nothing,
}
"""Every word, for the states in which an item is asked or a clock is waited for."""
