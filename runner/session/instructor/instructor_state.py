"""The state of a drill for its instructor, as plain data: what is true, what is seen, what went on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import Any, Final

from runner.core.event import Answered
from runner.core.state import FINAL
from runner.drill.debrief.debrief_words import signed_words
from runner.drill.drill_act import DESK
from runner.drill.drill_desk import DrillDesk
from runner.drill.drill_event import (
    DrillEvent,
    DrillFrozen,
    DrillInterrupted,
    DrillSigned,
    DrillThawed,
    FaultCalled,
    FaultMended,
    FaultTripped,
    HandMoved,
    InstructorRemark,
    InterruptionAnswered,
    LookTaken,
    WordsRefused,
    tripped_fault,
)
from runner.drill.story.drill_story import DrillStory
from runner.language.meaning import Picked
from runner.screen import view_wording as wording
from runner.screen.view import View
from runner.session.instructor.instructor_order import fault_plain

MOST_LINES: Final = 200
"""Of the timeline, the newest; all of it is in the record."""


class InstructorTimeline:
    """What went on, line by line; only the drill's thread writes it."""

    def __init__(self, story: DrillStory, begun_at: float) -> None:
        self._story, self._begun_at = story, begun_at
        self._lines: list[dict[str, Any]] = []
        self._number = 0

    @property
    def lines(self) -> list[dict[str, Any]]:
        """The newest lines, the oldest of them first: number, seconds since the beginning, who, words."""
        return self._lines[-MOST_LINES:]

    def happen(self, event: DrillEvent) -> None:
        """An event of the drill."""
        who, words = told(event, self._story)
        self._add(event.at, who, words)

    def hear(self, at: float, overheard: str | Answered) -> None:
        """What was said to the student, or an answer; what is meant for the desk comes back as an event."""
        if isinstance(overheard, str):
            self._add(at, "eyesout", overheard)
        elif not (isinstance(overheard.meaning, Picked) and overheard.meaning.item == DESK):
            self._add(overheard.onset_at, "student", f"“{overheard.text}”")

    def _add(self, at: float, who: str, words: str) -> None:
        if words:
            self._number += 1
            seconds = round(max(0.0, at - self._begun_at), 1)
            self._lines.append({"number": self._number, "seconds": seconds, "who": who, "words": words})


def told(event: DrillEvent, story: DrillStory) -> tuple[str, str]:
    """Who did what."""
    match event:
        case DrillInterrupted(_, number):
            return story.interruptions[number].who, "interrupts"
        case InstructorRemark(_, by, words):
            return by, words
        case FaultTripped() | FaultMended() | DrillFrozen() | DrillThawed() | DrillSigned():
            return "instructor", _instructed(event)
        case _:
            return "student", _done(event, story)


def _instructed(event: FaultTripped | FaultMended | DrillFrozen | DrillThawed | DrillSigned) -> str:
    match event:
        case FaultTripped():
            return f"trips {tripped_fault(event)}"
        case FaultMended():
            return f"mends {tripped_fault(event)}"
        case DrillFrozen():
            return "freezes the airplane's time"
        case DrillThawed():
            return "lets time go on"
        case DrillSigned():
            return f"signed off by {signed_words(event)}"


def _done(
    event: HandMoved | LookTaken | FaultCalled | InterruptionAnswered | WordsRefused, story: DrillStory
) -> str:
    match event:
        case HandMoved(_, switch, position):
            return f"moves {switch}: {position}"
        case LookTaken(_, name):
            return f"looks at {name}"
        case FaultCalled(_, name):
            return f"calls {name} wrong"
        case InterruptionAnswered(_, number):
            return f"answers {story.interruptions[number].who}"
        case WordsRefused(_, text, reason):
            return f"“{text or '…'}” {reason}"


def instructor_state(desk: DrillDesk, view: View, timeline: InstructorTimeline) -> dict[str, Any]:
    """All that the page shows now; the drill's thread makes it."""
    return {
        "is_begun": True,
        "registration": view.registration,
        "check": view.check,
        "level": desk.story.level,
        "seed": desk.story.seed,
        "seconds": round(max(0.0, view.now - desk.begun_at), 1),
        "is_frozen": desk.is_frozen,
        **_check(view),
        "faults": _faults(desk),
        **_power(desk),
        "panel": list(_panel(view)),
        "timeline": timeline.lines,
        "signed": next((signed_words(each) for each in desk.events if isinstance(each, DrillSigned)), None),
    }


def _check(view: View) -> dict[str, Any]:
    """What the student is asked, said and heard."""
    drill = view.drill
    return {
        "state": wording.state_name(view),
        "is_over": view.state in FINAL,
        "done": view.done,
        "total": view.total,
        "item": wording.large(view),
        "answers": [each.label for each in view.answers if each.outcome is not None],
        "said": view.sound.said,
        "heard": wording.heard(view),
        "told": "" if drill is None else drill.caller or drill.told,
        "departure": "" if drill is None else wording.departure(drill),
    }


def _faults(desk: DrillDesk) -> list[dict[str, Any]]:
    """What is wrong, whether it shows now, and who put it in."""
    hidden = desk.story.setting.hidden
    return [
        {
            **fault_plain(each),
            "is_there": each.is_there(desk.played.seconds),
            "is_tripped": each not in hidden,
        }
        for each in desk.played.hidden
    ]


def _power(desk: DrillDesk) -> dict[str, Any]:
    """Volts of the buses and charge of the batteries, as they truly are."""
    volts = desk.played.flow.volts
    return {
        "buses": [{"name": name, "volts": round(each, 1)} for name, each in volts.items()],
        "batteries": [
            {"name": name, "percent": round(100 * state.charge), "celsius": round(state.celsius)}
            for name, state in desk.played.states.items()
        ],
    }


def _panel(view: View) -> Iterator[Mapping[str, Any]]:
    rows = () if view.drill is None else view.drill.rows
    for group, found in groupby(rows, key=lambda row: row.group):
        yield {
            "group": group,
            "rows": [{"name": row.name, "shape": row.shape, "words": row.words} for row in found],
        }
