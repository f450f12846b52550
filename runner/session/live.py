"""A live room: one queue of events, a loudspeaker and an ear where there are any, and a screen."""

from __future__ import annotations

import queue
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

from runner.core.event import Answered, Channel, Event, Misheard, NoteEnded, PlaybackEnded, Started, Ticked
from runner.core.machine import Machine
from runner.language.force import InForce
from runner.language.meaning import Meaning
from runner.session.hearing import Hearing
from runner.session.mouth import Mouth
from runner.session.session import Session
from runner.voice.clock import Clock
from runner.voice.port import Speaker

TICK_SECONDS: Final = 0.25
"""With sound: how often clocks and the meter are looked at."""

QUIET_TICK_SECONDS: Final = 1.0
"""By keys alone."""

SETTLE_SECONDS: Final = 5.0
"""A loop that has not come so far by then has ended."""

NOTHING: Final = InForce({})


class _Stop:
    """Put into the queue to end the loop."""


@dataclass(frozen=True, slots=True)
class _Mark:
    """Put into the queue to learn when all before it is done."""

    is_passed: threading.Event = field(default_factory=threading.Event)


@dataclass(slots=True)
class Room:
    """Stage of a live run. Keys, ear, loudspeaker and time meet in `events`; one thread works on them."""

    machine: Machine
    clock: Clock
    show_run: Callable[[], None]
    """Called on the loop's thread whenever the picture may be out of date."""
    mouth: Mouth | None = None
    speaker: Speaker | None = None
    hearing: Hearing | None = None
    events: queue.SimpleQueue[Event | _Stop | _Mark] = field(default_factory=queue.SimpleQueue)
    refusal: str = ""
    """Why the last thing heard was not taken; empty when it was."""

    def put(self, event: Event) -> None:
        """From any thread."""
        self.events.put(event)

    def stop(self) -> None:
        """End the loop; the run stays open in the record. From any thread."""
        self.events.put(_Stop())

    def key(self, turn: int, meaning: Meaning, text: str) -> None:
        """An answer by key. From any thread."""
        now = self.clock.now()
        self.put(Answered(now, turn, meaning, text, 1.0, now, Channel.KEYS))

    def settle(self) -> None:
        """Wait until all that was put before is worked through, or the loop has ended. Not for the loop."""
        mark = _Mark()
        self.events.put(mark)
        mark.is_passed.wait(SETTLE_SECONDS)

    def close_note(self) -> None:
        """The note's recording ends by key. From any thread."""
        if self.hearing is not None:
            self.hearing.close_note()

    def say(self, turn: int, text: str) -> None:
        """Speak, or with no loudspeaker count it as said at once."""
        if self.mouth is None or self.speaker is None:
            self.put(PlaybackEnded(self.clock.now(), turn))
            return
        sound = self.mouth.render(text)
        if self.hearing is not None:
            self.hearing.prompt_started()
        self.speaker.play(sound, lambda at: self._ended(turn, at))

    def tell(self, text: str) -> None:
        """Say something after the run, to its end; without a loudspeaker nothing."""
        if not text or self.mouth is None or self.speaker is None:
            return
        sound, ended = self.mouth.render(text), threading.Event()
        self.speaker.play(sound, lambda _at: ended.set())
        ended.wait(sound.seconds + SETTLE_SECONDS)

    def listen(self, turn: int, in_force: InForce) -> None:
        """With the room too loud nothing is listened for; keys count always."""
        if self.hearing is not None:
            is_by_voice = self.machine.progress.channel is Channel.VOICE
            self.hearing.listen(turn, in_force if is_by_voice else NOTHING)

    def record_note(self, turn: int) -> None:
        """Without an ear a note cannot be recorded."""
        if self.hearing is None:
            self.put(NoteEnded(self.clock.now(), "", 0.0))
        else:
            self.hearing.record_note(turn)

    def show(self) -> None:
        """Draw the run anew."""
        self.show_run()

    def _ended(self, turn: int, at: float) -> None:
        """The loudspeaker's word; a prompt that was cut short by a newer one does not open the ear."""
        if self.hearing is not None and turn == self.machine.turn:
            self.hearing.prompt_ended(at)
        self.put(PlaybackEnded(at, turn))


def run_live(session: Session, room: Room) -> bool:
    """Work through the queue until the run is over and its last word spoken (True), or `stop` (False)."""
    session.take(Started(room.clock.now()))
    tick = QUIET_TICK_SECONDS if room.hearing is None else TICK_SECONDS
    due = room.clock.now() + tick
    while True:
        try:
            event = room.events.get(timeout=max(0.0, due - room.clock.now()))
        except queue.Empty:
            due = room.clock.now() + tick
            if room.hearing is None or not room.hearing.is_hearing:
                session.take(Ticked(room.clock.now()))
            room.show_run()
            continue
        if isinstance(event, _Stop):
            return False
        if isinstance(event, _Mark):
            event.is_passed.set()
            continue
        if isinstance(event, (Answered, Misheard)):
            room.refusal = event.reason.value if isinstance(event, Misheard) else "answers nothing here"
        session.take(event)
        is_last_word = isinstance(event, PlaybackEnded) and event.turn == room.machine.turn
        if session.is_finished and is_last_word:
            return True
