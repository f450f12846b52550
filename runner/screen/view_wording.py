"""The words of each line of a view, shared by the screen and the plain text, so that both say the same."""

from types import MappingProxyType
from typing import Final

from runner.core.event import Channel
from runner.core.state import FINAL, State
from runner.language.catalogue import SHORT_ADVISORY, SHOWN_ADVISORY, Noun, Outcome
from runner.screen.drill_view import DrillView
from runner.screen.keys import WORD_KEYS, may_leave
from runner.screen.view import AnswerView, ClockView, View

CRITICAL: Final = "CRITICAL"
KEY_HELP: Final = (
    ("space", "the expected answer, but where it says CRITICAL"),
    ("a to z", "the other answers and the flags, as they are shown"),
    ("digits", "a reading; enter takes it, backspace mends it, escape clears it"),
    ("capitals", "standard words, those that count now"),
    ("?", "these keys"),
    ("ctrl+t", "light or dark"),
    ("ctrl+q", "leave; pressed twice, whatever hangs"),
)
"""Every kind of key and what it gives."""


_STATES: Final = MappingProxyType(
    {
        State.READY: "starting",
        State.BRIEFING: "cautions",
        State.ASKING: "answer",
        State.CONFIRMING: "confirm",
        State.STOPPED: "stop",
        State.WAITING: "wait",
        State.HOLDING: "standby",
        State.NOTING: "note",
        State.RESTORING: "put back",
        State.COMPLETE: "complete",
        State.ABANDONED: "abandoned",
    }
)
"""What a state wants of the pilot, in the pilot's words."""


def state_name(view: View) -> str:
    """Where the run stands: `answer`, `standby`, `put back`."""
    return _STATES[view.state]


DRILL: Final = "DRILL"
"""Stands on every screen, page and paper that is about no real airplane."""


def drill_mark(view: View) -> str:
    """The word DRILL in front of the state where this is one."""
    return f"{DRILL} " if view.is_drill else ""


def departure(drill: DrillView) -> str:
    """How long there is until the departure; empty where there is none."""
    if drill.left_seconds is None:
        return ""
    seconds = abs(round(drill.left_seconds))
    words = f"{seconds // 60}:{seconds % 60:02d}"
    return f"departure in {words}" if drill.left_seconds >= 0 else f"departure {words} ago"


def position(view: View) -> str:
    """`item 7 of 24`; empty when no item is in force."""
    return f"item {view.number} of {view.total}" if view.number else ""


def marks(view: View) -> str:
    """Section, kind and critical mark: `Reserve bus · reading · CRITICAL`."""
    return " · ".join(filter(None, (place(view), CRITICAL if view.is_critical else "")))


def place(view: View) -> str:
    """Section and kind of the item in force: `Reserve bus · reading`."""
    return " · ".join(filter(None, (view.section, view.kind)))


def large(view: View) -> str:
    """What stands largest: the question that waits, else the challenge in force."""
    return view.question or view.challenge


def stop(view: View) -> str:
    """`STOP: somebody there. Wait until they are away.`; empty where nothing stops the run."""
    if not view.stop:
        return ""
    remedy = view.remedy.rstrip(".")
    return f"STOP: {view.stop}. {remedy}." if remedy else f"STOP: {view.stop}."


def answer(one: AnswerView) -> str:
    """The label, the phrase where that is another, and what it means where it is not a pass."""
    said = f' "{one.say}"' if one.say else ""
    return (
        f"{one.label}{said}" if one.outcome in (None, Outcome.PASS) else f"{one.label}{said} ({one.outcome})"
    )


def flag(one: AnswerView) -> str:
    """What ends a clock, as the ear takes it: `"attitude flag pulled"`."""
    return f'"{one.say or one.label}"'


def key_name(one: AnswerView) -> str:
    """The key that an answer is shown with: space where it is the expected one."""
    return "space" if one.is_expected else one.key


def entry(view: View) -> str:
    """How to enter the reading in force, and the digits so far; empty when none is."""
    if view.gauge is None:
        return ""
    return f"{view.typed}_ {view.gauge.unit}   {entry_hint(view)}"


def entry_hint(view: View) -> str:
    """What the keys do to the digits; empty when no reading is in force."""
    if view.gauge is None:
        return ""
    keys = "enter takes it, backspace mends it" if view.typed else "digits, then enter"
    return f"{keys}; steps of {view.gauge.resolution}"


def clock(one: ClockView) -> str:
    """`right gyro 42 s running, advise at 60 s, limit 120 s`."""
    figures = f"advise at {one.advise_seconds:.0f} s, limit {one.limit_seconds:.0f} s"
    return f"{one.name} {one.elapsed_seconds:.0f} s {one.state}, {figures}"


def battery(view: View) -> str:
    """`battery 0.42 of 17.0 Ah used, 2%, caution at 10%`."""
    used = view.battery
    if not used.is_known:
        return ""
    words = f"battery {used.ampere_hours:.2f} of {used.usable_ampere_hours:.1f} Ah used, {used.share:.0%}"
    if used.is_warned:
        return f"{words}, CAUTION: past {used.warn_share:.0%}"
    return f"{words}, caution at {used.warn_share:.0%}"


def heard(view: View) -> str:
    """`heard "both lit", 97% sure, taken`, or `keyed "both lit", taken`; empty before the first."""
    last = view.sound.heard
    if last is None:
        return ""
    reason = f": {last.reason}" if last.reason else ""
    text = f'"{last.text}"' if last.text else "something unclear"
    if last.channel is Channel.KEYS:
        return f"keyed {text}, {last.verdict}{reason}"
    return f"heard {text}, {last.confidence:.0%} sure, {last.verdict}{reason}"


def said(view: View) -> str:
    """What was last said to the pilot, without the cautions that stand on the screen anyway; maybe empty."""
    said = view.sound.said
    for caution in view.briefing:
        said = said.replace(f"{caution.rstrip('.')}.", "")
    return f'said "{" ".join(said.split())}"' if said.strip() else ""


def counts(view: View) -> str:
    """Stops, squawks, cautions and items put off, where there are any, as counts."""
    found = ((view.stops, Noun.STOP), (view.squawks, Noun.SQUAWK), (view.cautions, Noun.CAUTION))
    counted = [f"{count} {noun.of(count)}" for count, noun in found if count]
    return ", ".join([*counted, *([f"{len(view.put_off)} put off"] if view.put_off else [])])


def ear(view: View) -> str:
    """How answers are given, the noise, the microphone's level and the recogniser."""
    sound = view.sound
    if not sound.engine:
        return f"answer by {sound.channel}, {sound.noise}"
    level = "" if sound.dbfs is None else f" at {sound.dbfs:.0f} dBFS"
    return f"answer by {sound.channel}, {sound.noise}{level}, ear: {sound.engine}"


def advisory(width: int) -> str:
    """The standing caution, in fewer words where there is no room for all of them."""
    return SHOWN_ADVISORY if width >= len(SHOWN_ADVISORY) else SHORT_ADVISORY


def failures(view: View) -> str:
    """`failed: ear (no answer for 5 s); note (no space left)`; empty while everything serves."""
    return f"FAILED: {'; '.join(view.failures)}" if view.failures else ""


def leave(view: View) -> str:
    """How to get out of the program, where that is possible now; else empty."""
    if view.state in FINAL:
        return "q close"
    return "ctrl+q leave, the run stays open" if may_leave(view) else ""


def word_keys(view: View) -> tuple[tuple[str, str], ...]:
    """Key and word of every standard word of which something would come now."""
    return tuple((key, word.value) for key, word in WORD_KEYS.items() if word in view.acting)
