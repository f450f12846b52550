"""From the machine to the view: the run's outlook put into the words and figures that are shown."""

from collections.abc import Iterator
from dataclasses import replace
from types import MappingProxyType
from typing import Final, cast

from runner.checklist.format.check import Item
from runner.checklist.kind.numbered import Numbered
from runner.core.ask import prompt
from runner.core.ask.agenda import frontier_of
from runner.core.ask.outlook import OpenClock, Outlook, outlook_of
from runner.core.event import Channel
from runner.core.grid.machine import Machine
from runner.core.record.battery_use import ampere_hours
from runner.core.record.entry import ClockEnded
from runner.core.record.progress import Progress
from runner.core.record.run_summary import summarise
from runner.core.state import FINAL, State
from runner.language.catalogue import Outcome, Word
from runner.language.meaning import Command
from runner.screen.answer_key import ABANDON, AFFIRM, CONTINUE, GO_ON, NEGATIVE, keyed
from runner.screen.view import (
    AnswerView,
    BatteryView,
    ClockView,
    Gauge,
    HeardVerdict,
    HeardView,
    SoundView,
    View,
)
from runner.visible import visible_in

_AT_ITEM: Final = frozenset(
    {State.ASKING, State.CONFIRMING, State.STOPPED, State.HOLDING, State.NOTING, State.RESTORING}
)
"""States in which an item is in front of the pilot."""

_STANDING: Final = MappingProxyType(
    {
        State.READY: "Starting",
        State.BRIEFING: "Cautions",
        State.NOTING: "Say the note; enter ends it",
        State.ABANDONED: "Check abandoned",
    }
)
"""What stands large where no item is asked."""

_TYPING: Final = "Type the note; enter keeps it"
"""Stands large where a note is wanted and there is nothing to record it with."""

_WORD_ANSWERS: Final = MappingProxyType(
    {
        State.BRIEFING: (GO_ON,),
        State.HOLDING: (GO_ON,),
        State.CONFIRMING: (AFFIRM, NEGATIVE),
    }
)

_END_NO_STOP: Final = frozenset({Word.AFFIRM, Word.UNABLE, Word.PUT_OFF, Word.ROGER})
"""Heard at a stop so that they can be refused; no key offers them."""


def build_view(
    machine: Machine, now: float, *, airplane: str, registration: str, sound: SoundView, reason: str = ""
) -> View:
    """The view of a run at `now`, seconds since the epoch.

    `sound` brings engine, level and noise; what was heard and said and the channel come from the machine.
    `reason` tells why the last thing heard was not taken.
    """
    progress, outlook = machine.progress, outlook_of(machine.progress)
    check = progress.plan.check
    is_note_typed = outlook.state is State.NOTING and not (sound.engine and progress.may_record)
    is_at_item = outlook.state in _AT_ITEM
    item = outlook.item if is_at_item else None
    view = View(
        now=now,
        turn=machine.turn,
        state=outlook.state,
        airplane=airplane,
        registration=registration,
        check=check.title,
        section=outlook.section.title if outlook.section is not None and is_at_item else "",
        number=0 if item is None else _number(progress, item),
        done=outlook.done,
        total=outlook.total,
        challenge=_TYPING if is_note_typed else _challenge(outlook),
        kind="" if item is None else item.body.label(),
        is_critical=item is not None and item.critical,
        words=_words(outlook),
        question=_question(progress, outlook),
        answers=_answers(outlook),
        gauge=_gauge(outlook.item, outlook.gauge),
        clocks=tuple(_clock(each, now) for each in outlook.clocks),
        battery=_battery(progress, now),
        put_off=tuple(each.challenge for each in outlook.put_off),
        squawks=outlook.squawks,
        cautions=outlook.cautions,
        sound=_sound(machine, outlook, sound, "" if is_note_typed else machine.transmission, reason),
        stop="" if outlook.stop is None else outlook.stop.what,
        remedy="" if outlook.stop is None else check.item(outlook.stop.item).remedy,
        stops=outlook.stops,
        is_abandoning=progress.is_abandoning,
        failures=tuple(f"{port}: {reason}" for port, reason in progress.lost.items()),
        briefing=check.cautions if outlook.state is State.BRIEFING else (),
        is_note_typed=is_note_typed,
        findings=tuple(_findings(progress)) if outlook.state in FINAL else (),
        band=_band(progress, outlook),
        corrections=keyed(outlook.corrections, has_space=False),
        corrected_gauge=_gauge(
            outlook.corrected, None if outlook.corrected is None else outlook.corrected.body.number
        ),
        acting=tuple(word for word in _words(outlook) if machine.may_act(word, now)),
    )
    return cast("View", visible_in(view))


def _number(progress: Progress, item: Item) -> int:
    """Position among the items that count in the total: those that the answers have not left out."""
    number = progress.plan.check.number
    return (
        number(item.name)
        + 1
        - sum(number(name) <= number(item.name) for name in frontier_of(progress).left_out)
    )


def _challenge(outlook: Outlook) -> str:
    """What stands large: the challenge, or what goes on where none is asked."""
    if outlook.state in _STANDING:
        return _STANDING[outlook.state]
    if outlook.state is State.WAITING:
        return "Waiting: " + ", ".join(clock.body.gyro for clock in outlook.clocks)
    if outlook.state is State.COMPLETE:
        return "Check complete"
    challenge = "" if outlook.item is None else outlook.item.challenge
    if _is_put_back(outlook):
        return f"Stopped at: {challenge}"
    return f"Holding at: {challenge}" if outlook.state is State.HOLDING else challenge


def _question(progress: Progress, outlook: Outlook) -> str:
    """The confirmation that is waited for, in figures."""
    if outlook.state is not State.CONFIRMING or progress.pending is None:
        return ""
    number = progress.pending.number
    if number is None and progress.pending.item:
        return prompt.restart(progress)
    if number is None or outlook.gauge is None:
        return prompt.ABANDON
    return f"{number} {outlook.gauge.unit} is a {outlook.gauge.outcome(number)}: confirm?"


def _words(outlook: Outlook) -> tuple[Word, ...]:
    """Standard words among the meanings in force, in the order of the table of words."""
    said = {each.word for each in outlook.in_force.meanings.values() if isinstance(each, Command)}
    words = tuple(word for word in Word if word in said)
    if outlook.state is not State.STOPPED:
        return words
    refused = _END_NO_STOP if _is_put_back(outlook) else _END_NO_STOP | {Word.CONTINUE}
    return tuple(word for word in words if word not in refused)


def _is_put_back(outlook: Outlook) -> bool:
    """The run is stopped, and with everything back there is nothing to answer but whether to try again."""
    return outlook.state is State.STOPPED and outlook.gauge is None and not outlook.answers


def _answers(outlook: Outlook) -> tuple[AnswerView, ...]:
    """The words that a state waits for, or the answers of the item in force."""
    if _is_put_back(outlook):
        return (CONTINUE, ABANDON)
    is_grave = outlook.state is State.STOPPED or outlook.item is None or outlook.item.critical
    return _WORD_ANSWERS.get(outlook.state) or keyed(outlook.answers, has_space=not is_grave)


def _band(progress: Progress, outlook: Outlook) -> str:
    """Which values pass and which are a caution, once a value was out of it."""
    is_asked = outlook.state is State.CONFIRMING and outlook.gauge is not None
    item = outlook.item if is_asked else None
    if outlook.stop is not None:
        item = progress.plan.check.item(outlook.stop.item)
    number = None if item is None else item.body.number
    return "" if number is None else number.bands()


def _findings(progress: Progress) -> Iterator[str]:
    """What was found, as a person would tell it."""
    summary = summarise(progress)
    for kind, records in ((Outcome.SQUAWK, summary.squawks), (Outcome.CAUTION, summary.cautions)):
        for record in records:
            challenge = progress.plan.check.item(record.item).challenge.rstrip("?")
            if isinstance(record, ClockEnded):
                value = f"{'' if record.is_pulled else 'stuck, '}{record.seconds:.0f} s"
            else:
                value = f"{record.answer} {record.unit}".strip()
            yield f"{kind}: {challenge}: {value}"


def _gauge(item: Item | None, number: Numbered | None) -> Gauge | None:
    """What number entry needs to know of an item that asks for a number."""
    if number is None or item is None:
        return None
    return Gauge(item.name, str(number.unit), number.resolution, number.plausible.low, number.plausible.high)


def _clock(one: OpenClock, now: float) -> ClockView:
    """An open clock at this time of day."""
    return ClockView(
        name=one.body.gyro,
        elapsed_seconds=one.clock.elapsed(now),
        advise_seconds=one.body.advise_seconds,
        limit_seconds=one.body.limit_seconds,
        answers=keyed(one.answers),
    )


def _battery(progress: Progress, now: float) -> BatteryView:
    """What the run has used so far."""
    plan = progress.plan
    return BatteryView(ampere_hours(progress, now), plan.usable_ampere_hours, plan.warn_share)


def _sound(machine: Machine, outlook: Outlook, sound: SoundView, said: str, reason: str) -> SoundView:
    """The session's facts with what the machine heard, and what it said."""
    last = machine.last_heard
    heard = None
    if last is not None:
        verdict = HeardVerdict.TAKEN if last.is_taken else HeardVerdict.REFUSED
        heard = HeardView(last.text, last.confidence, verdict, "" if last.is_taken else reason, last.channel)
    channel = outlook.channel if sound.engine else Channel.KEYS
    return replace(sound, channel=channel, heard=heard, said=said)
