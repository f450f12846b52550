"""The view as plain text lines, for pipes, dumb terminals and tests; says all that the screen says."""

from textwrap import wrap
from typing import Final

from runner.language.catalogue import SHOWN_ADVISORY
from runner.screen import view_wording as wording
from runner.screen.full.bar import EMPTY, FULL, bar
from runner.screen.view import AnswerView, ClockView, View

WIDTH: Final = 80


def plain_lines(view: View, width: int = WIDTH) -> tuple[str, ...]:
    """Every fact of the view, one to a line, none longer than `width`."""
    lines = [
        f"[{wording.drill_mark(view)}{wording.state_name(view)}] "
        + ": ".join(filter(None, (wording.position(view), wording.marks(view)))),
        f"{', '.join(filter(None, (view.registration, view.airplane)))}: {view.check}",
        _progress(view),
        *(f"caution: {caution}" for caution in view.briefing),
        *view.findings,
        *filter(None, (wording.stop(view),)),
        f"> {wording.large(view)}",
        *filter(None, (view.band,)),
        *_answering(view),
        *_drill(view),
        *(_clock(clock) for clock in view.clocks),
        *filter(None, (wording.battery(view),)),
        *filter(None, (wording.heard(view), wording.said(view), wording.counts(view))),
        *(f"put off: {challenge}" for challenge in view.put_off),
        *filter(None, (wording.failures(view),)),
        wording.ear(view),
        f"words: {_words(view)}",
        *filter(None, (wording.leave(view),)),
        SHOWN_ADVISORY,
    ]
    return tuple(part for line in lines for part in wrap(line, width, subsequent_indent="  "))


def help_lines(view: View, width: int = WIDTH) -> tuple[str, ...]:
    """The keys, each kind on a line."""
    words = " ".join(f"{key} {word}," for key, word in wording.word_keys(view)).rstrip(",")
    lines = [*(f"{keys}: {what}" for keys, what in wording.KEY_HELP), f"words now: {words or 'none'}"]
    return tuple(part for line in lines for part in wrap(line, width, subsequent_indent="  "))


def _progress(view: View) -> str:
    """How far the check is, as a bar and in numbers."""
    share = view.done / view.total if view.total else 0.0
    return f"{bar(share, 40).replace(FULL, '#').replace(EMPTY, '.')} {view.done} of {view.total} done"


def _drill(view: View) -> list[str]:
    """Who interrupts, what was seen last, how long there is, and how to use hands and eyes."""
    drill = view.drill
    if drill is None:
        return []
    lines = [f"{drill.caller} (= {drill.reply})"] if drill.caller else []
    lines += [f"told: {drill.told}"] if drill.told else []
    lines += filter(None, (wording.departure(drill),))
    example = next((row for row in drill.rows if row.is_hand), None)
    if example is not None:
        moved = f'"{example.name} {example.positions[-1]}" moves it'
        lines.append(f'drill: a name looks there, {moved}, "NAME is wrong" calls it, "panel" shows all')
    return lines


def panel_lines(view: View, width: int = WIDTH) -> tuple[str, ...]:
    """Every row of a drill's panel."""
    rows = () if view.drill is None else view.drill.rows
    lines = [f"{row.shape} {row.name}: {row.words}" for row in rows]
    return tuple(part for line in lines for part in wrap(line, width, subsequent_indent="  "))


def _answering(view: View) -> list[str]:
    """What can be answered, and why the last key was not taken."""
    lines = [f"item: {view.challenge}"] if view.question else []
    if view.gauge is not None:
        lines.append(f"number: {wording.entry(view)}")
    if view.is_note_typed:
        lines.append("note: type it in one line; an empty line drops it")
    if view.answers:
        lines.append(f"keys: {_keys(view.answers)}")
    if view.refusal:
        lines.append(f"not taken: {view.refusal}")
    return lines


def _clock(clock: ClockView) -> str:
    """One open clock with the keys that end it."""
    keys = ", ".join(f"{one.key} {wording.flag(one)}" for one in clock.answers)
    return f"clock: {wording.clock(clock)}; keys: {keys}"


def _keys(answers: tuple[AnswerView, ...]) -> str:
    """Keys with what they answer."""
    return ", ".join(f"{wording.key_name(one)} {wording.answer(one)}" for one in answers)


def _words(view: View) -> str:
    """Standard words in force with their keys."""
    return ", ".join(f"{key} {word}" for key, word in wording.word_keys(view)) or "none"
