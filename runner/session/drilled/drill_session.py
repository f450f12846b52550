"""A drill's session: what is meant for the desk goes there, all else to the machine, both on one clock."""

from __future__ import annotations

from collections.abc import Callable

from runner.core.effect import Effect, Listen
from runner.core.event import Answered, Event, Misheard, PlaybackEnded, Ticked
from runner.core.grid.machine import Machine
from runner.core.record.entry import Entry
from runner.core.state import FINAL
from runner.drill.drill_act import DESK, desk_meaning
from runner.drill.drill_desk import DrillDesk
from runner.language.catalogue import Word
from runner.language.force import InForce
from runner.language.meaning import Command, Meaning, Picked
from runner.session.session import Session, Stage


class DrillSession(Session):
    """As a session; only one thread may call `take`."""

    def __init__(
        self, machine: Machine, append: Callable[[Entry], None], stage: Stage, desk: DrillDesk
    ) -> None:
        super().__init__(machine, append, stage)
        self.desk = desk
        self._room = stage
        self._said = 0
        """What the desk has said gets turns of its own, below zero."""
        self._heard_out = 0
        """The latest of the machine's turns that came to its end."""

    def take(self, event: Event) -> None:
        """The desk's part of an event first, then the machine's."""
        self.desk.play_to(event.at)
        if isinstance(event, PlaybackEnded):
            self._heard_out = event.turn if event.turn >= 0 else self._heard_out
            if event.turn < 0:
                self._say_again()
                return
        if isinstance(event, Answered) and self._is_for_desk(event.meaning):
            self._act(event)
            return
        self._note_words(event)
        super().take(event)
        is_quiet = self._heard_out == self.machine.turn
        if isinstance(event, Ticked) and is_quiet and self.machine.state not in FINAL:
            self._say(self.desk.interrupt(event.at, len(self.machine.progress.done)))

    def _is_for_desk(self, meaning: Meaning) -> bool:
        return isinstance(meaning, Picked) and meaning.item == DESK

    def _act(self, event: Answered) -> None:
        meaning = event.meaning
        act = self.desk.acts.get(meaning.label) if isinstance(meaning, Picked) else None
        if act is not None:
            self._say(self.desk.act(max(event.onset_at, self.desk.begun_at), act))
            self._listen_anew()
        self._room.show()

    def _note_words(self, event: Event) -> None:
        """Words that are not in force, and the one that never answers."""
        if isinstance(event, Misheard):
            self.desk.refuse(event.at, event.text or "", event.reason.value)
        elif isinstance(event, Answered) and event.meaning == Command(Word.ROGER):
            self.desk.refuse(event.at, event.text, "answers nothing")

    def _say(self, words: str) -> None:
        if words:
            self._said -= 1
            self._room.say(self._said, words, ())
            self._listen_anew()

    def _say_again(self) -> None:
        """A question that the desk has talked over."""
        if self._heard_out != self.machine.turn:
            self._room.say(self.machine.turn, self.machine.last_said, ())

    def _listen_anew(self) -> None:
        """The same question with the desk's words as they are now."""
        self._perform(Listen(self.machine.turn, self._in_force))

    def _perform(self, effect: Effect) -> None:
        if isinstance(effect, Listen):
            self._in_force = effect.in_force
            effect = Listen(effect.turn, with_desk(effect.in_force, self.desk))
        super()._perform(effect)

    _in_force = InForce({})


def with_desk(in_force: InForce, desk: DrillDesk) -> InForce:
    """The phrases in force and the desk's; where they share one, the check's own counts."""
    desks = {phrase: desk_meaning(phrase) for phrase in desk.acts}
    return InForce({**desks, **in_force.meanings})
