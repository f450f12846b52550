"""One run in progress: events go to the machine, its effects to record, mouth, ear and screen."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from runner.core.effect import Append, Effect, Finish, Listen, Record, Say, Show
from runner.core.event import Event
from runner.core.grid.machine import Machine
from runner.core.record.entry import Entry
from runner.language.force import InForce


class Stage(Protocol):
    """What surrounds the machine: a live room, a keyboard, or a scripted pilot's world."""

    def say(self, turn: int, text: str, read_back: tuple[str, ...]) -> None:
        """Speak, these sentences of the text as read-backs; the end comes back as PlaybackEnded(turn)."""
        ...

    def listen(self, turn: int, in_force: InForce) -> None:
        """These phrases count from now on, for this turn."""
        ...

    def record_note(self, turn: int) -> None:
        """Keep what is said next as a clip; ends with NoteEnded."""
        ...

    def show(self) -> None:
        """Draw the run anew."""
        ...


class Session:
    """Owns the machine. Only one thread may call `take`."""

    def __init__(self, machine: Machine, append: Callable[[Entry], None], stage: Stage) -> None:
        self.machine = machine
        self.is_finished = False
        self._append = append
        self._stage = stage

    def take(self, event: Event) -> None:
        """Let the machine handle one event and perform what it asks for, in its order."""
        _, effects = self.machine.handle(event)
        for effect in effects:
            self._perform(effect)

    def _perform(self, effect: Effect) -> None:
        match effect:
            case Append(entry):
                self._append(entry)
            case Say(turn, text, read_back):
                self._stage.say(turn, text, read_back)
            case Listen(turn, in_force):
                self._stage.listen(turn, in_force)
            case Record(turn):
                self._stage.record_note(turn)
            case Show():
                self._stage.show()
            case Finish():
                self.is_finished = True
