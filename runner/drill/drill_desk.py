"""The desk of a drill: plays the airplane as time goes by, does what hands and eyes ask, sends people in.

All that happens at it is a list of events, from which the drill can be played again.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from runner.drill.drill_act import CallAct, DrillAct, LookAct, MoveAct, ReplyAct, hand_acts, reply_acts
from runner.drill.drill_event import (
    DrillEvent,
    DrillFrozen,
    DrillInterrupted,
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
from runner.drill.played.drill_panel import DrillPanel
from runner.drill.played.played_airplane import PlayedAirplane
from runner.drill.played.spoken_look import told_look
from runner.drill.story.drill_story import DrillStory
from runner.drill.story.interruption import PATIENCE_SECONDS, Interruption

Watch = Callable[[DrillEvent], None]


@dataclass(slots=True)
class DrillDesk:
    """One drill in progress; `watch` is told of each event as it happens, as the record is."""

    story: DrillStory
    begun_at: float
    watch: Watch = lambda _event: None
    events: list[DrillEvent] = field(default_factory=list)
    played: PlayedAirplane = field(init=False)
    told: str = ""
    """What was last said to the student at the desk."""
    is_frozen: bool = False
    """An instructor holds the airplane's time."""
    _now: float = field(init=False)
    _hands: Mapping[str, DrillAct] = field(init=False)
    _open: tuple[int, float] | None = None
    """The interruption that waits for its answer, and since when."""
    _come: int = 0
    """Interruptions so far."""

    def __post_init__(self) -> None:
        self.played, self._now = PlayedAirplane(self.story.setting), self.begun_at
        self._hands = hand_acts(self.story.setting, self.played.panel())

    @property
    def panel(self) -> DrillPanel:
        """What can be seen now."""
        return self.played.panel()

    @property
    def acts(self) -> Mapping[str, DrillAct]:
        """Every phrase that counts at the desk now."""
        waiting = self.interruption
        if waiting is None or self._open is None:
            return self._hands
        return {**self._hands, **reply_acts(waiting, self._open[0])}

    @property
    def interruption(self) -> Interruption | None:
        """Who waits for an answer."""
        return None if self._open is None else self.story.interruptions[self._open[0]]

    def left_seconds(self, now: float) -> float | None:
        """Until the departure; None where there is none."""
        allowed = self.story.allowed_seconds
        return None if allowed is None else allowed - (now - self.begun_at)

    def play_to(self, at: float) -> None:
        """Time has gone by up to here, seconds since the epoch."""
        if not self.is_frozen and at > self._now:
            self.played.play(at - self._now)
        self._now = max(self._now, at)
        if self._open is not None and at >= self._open[1] + PATIENCE_SECONDS:
            self._open = None

    def interrupt(self, at: float, done: int) -> str:
        """What somebody says who comes once so many items are done; empty when nobody does."""
        people = self.story.interruptions
        if self._open is not None or self._come >= len(people) or done < people[self._come].after_items:
            return ""
        self._open, self._come = (self._come, at), self._come + 1
        self.happen(DrillInterrupted(at, self._open[0]))
        self.told = f"{people[self._open[0]].who}: {people[self._open[0]].says}"
        return people[self._open[0]].says

    def act(self, at: float, act: DrillAct) -> str:
        """Do it; what is said to it, empty for a hand, which needs no words."""
        self.told = self._done(at, act)
        return "" if isinstance(act, MoveAct | ReplyAct) else self.told

    def _done(self, at: float, act: DrillAct) -> str:
        match act:
            case MoveAct(switch, position):
                self.happen(HandMoved(at, switch, position))
                return f"{switch}: {position}."
            case LookAct(name):
                self.happen(LookTaken(at, name))
                return told_look(self.panel, name)
            case CallAct(name):
                self.happen(FaultCalled(at, name))
                return f"{name} noted."
            case ReplyAct(number):
                self.happen(InterruptionAnswered(at, number))
                self._open = None
                return f"answered: {self.story.interruptions[number].wants[0]}."

    def refuse(self, at: float, text: str, reason: str) -> None:
        """Something was said that answers nothing here."""
        self.happen(WordsRefused(at, text, reason))

    def happen(self, event: DrillEvent) -> None:
        """Let an event happen, from the student or from an instructor, and keep it."""
        self.play_to(event.at)
        match event:
            case HandMoved(_, switch, position):
                self.played.move(switch, position)
            case FaultTripped():
                self.played.change(tripped_fault(event), is_in=True)
            case FaultMended():
                self.played.change(tripped_fault(event), is_in=False)
            case DrillFrozen():
                self.is_frozen = True
            case DrillThawed():
                self.is_frozen = False
            case InstructorRemark() | _:
                pass
        self.events.append(event)
        self.watch(event)
