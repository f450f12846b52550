"""A live room: one inbox of events, a loudspeaker and an ear where there are any, and a screen."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from runner.core.ask import prompt
from runner.core.event import (
    Answered,
    Channel,
    Event,
    Misheard,
    NoteEnded,
    PlaybackEnded,
    Port,
    PortFailed,
    Started,
    Ticked,
)
from runner.core.grid.machine import Machine
from runner.errors import RecordError
from runner.language.force import InForce
from runner.language.meaning import Meaning
from runner.session.live.attendant import Attendant, reason_of
from runner.session.live.ear_thread import EarThread
from runner.session.live.inbox import Inbox, InboxEnd, Letter, LiveInbox, Mark
from runner.session.live.speech import Speech
from runner.session.session import Session
from runner.voice.card.audio_clock import Timekeeper

TICK_SECONDS: Final = 0.25
"""With sound: how often clocks and the meter are looked at."""

QUIET_TICK_SECONDS: Final = 1.0
"""By keys alone."""

SETTLE_SECONDS: Final = 5.0
"""A loop that has not come so far by then hangs."""

NOTHING: Final = InForce({})


class LiveRoom:
    """Stage of a live run. Keys, ear, loudspeaker and time meet in `events`; one thread works on them."""

    def __init__(
        self,
        machine: Machine,
        clock: Timekeeper,
        show_run: Callable[[], None],
        events: Inbox | None = None,
    ) -> None:
        self.machine = machine
        self.clock = clock
        self.show_run = show_run
        """Called on the loop's thread whenever the picture may be out of date."""
        self.events: Inbox = events or LiveInbox(clock)
        self.speech: Speech | None = None
        self.hearing: EarThread | None = None
        self.screen: Attendant | None = None
        """Draws what `show_run` has asked it to."""
        self.refusal = ""
        """Why the last thing heard was not taken; empty when it was."""
        self.is_over = False
        """Nobody reads the inbox any more."""
        self.worked = 0
        """Letters that have been worked on, marks left out."""

    def equip(self, speech: Speech | None, hearing: EarThread | None) -> None:
        """Use these, before the run begins."""
        self.speech, self.hearing = speech, hearing
        if speech is not None:
            speech.gate = hearing

    def put(self, event: Event) -> None:
        """From any thread."""
        self.events.put(event)

    def stop(self) -> None:
        """End the loop; the run stays open in the record. From any thread, or a signal's handler."""
        self.events.put(InboxEnd())

    def key(self, turn: int, meaning: Meaning, text: str) -> None:
        """An answer by key. From any thread."""
        now = self.clock.now()
        self.put(Answered(now, turn, meaning, text, 1.0, now, Channel.KEYS))

    def settle(self) -> None:
        """Wait until all that was put before is worked through and shown, or the loop has ended."""
        mark = Mark()
        self.events.put(mark)
        if not self.is_over:
            mark.is_passed.wait(SETTLE_SECONDS)

    def close_note(self) -> None:
        """The note's recording ends by key, or nothing is typed. From any thread."""
        if self.hearing is not None and self.machine.progress.may_record:
            self.hearing.close_note()
        else:
            self.write_note("")

    def write_note(self, text: str) -> None:
        """The note is typed. From any thread."""
        self.put(NoteEnded(self.clock.now(), "", 0.0, text))

    def say(self, turn: int, text: str, read_back: tuple[str, ...] = ()) -> None:
        """Speak, or with no loudspeaker count it as said at once."""
        if self.speech is None:
            self.put(PlaybackEnded(self.clock.now(), turn))
        else:
            self.speech.say(turn, text, read_back)

    def tell(self, text: str) -> None:
        """Say something after the run, to its end; without a loudspeaker nothing."""
        if text and self.speech is not None:
            self.speech.tell(text)

    def listen(self, turn: int, in_force: InForce) -> None:
        """While answers go by keys nothing is listened for; keys count always."""
        if self.hearing is not None:
            is_by_voice = self.machine.progress.channel is Channel.VOICE
            self.hearing.listen(turn, in_force if is_by_voice else NOTHING)

    def record_note(self, turn: int) -> None:
        """Without an ear or a microphone a note cannot be recorded: it is typed (`write_note`)."""
        if self.hearing is not None and self.machine.progress.may_record:
            self.hearing.record_note(turn)

    def show(self) -> None:
        """Draw the run anew; a picture that cannot be made is no reason to stop."""
        try:
            self.show_run()
        except Exception as error:  # noqa: BLE001 - told of and survived
            if Port.SCREEN not in self.machine.progress.lost:
                self.put(PortFailed(self.clock.now(), Port.SCREEN, reason_of(error)))

    def look(self, now: float) -> None:
        """See whether anything hangs."""
        for part in (self.speech, self.hearing, self.screen):
            if part is not None:
                part.look(now)

    def pass_mark(self, mark: Mark) -> None:
        """All that was put before is worked through; it is passed once what came of that has been as well.

        And once it has been shown.
        """
        if mark.worked != self.worked and not self.is_over:
            self.events.put(Mark(mark.is_passed, self.worked))
            return
        if self.screen is None or self.screen.is_stuck or self.is_over:
            mark.is_passed.set()
        else:
            self.screen.after(mark.is_passed.set)

    def leave(self) -> None:
        """Nobody reads the inbox from now on: who waits for the loop goes on at once."""
        self.is_over = True
        while (letter := self.events.get(self.clock.now())) is not None:
            if isinstance(letter, Mark):
                letter.is_passed.set()


def run_live(session: Session, room: LiveRoom, *, is_set_back: bool = False) -> bool:
    """Work through the inbox until the run is over and its last word spoken (True), or `stop` (False).

    `is_set_back` as in Started. RecordError when an entry could not be written: nothing more is taken, and
    what that means is said.
    """
    try:
        return _run(session, room, Started(room.clock.now(), is_set_back))
    except RecordError as error:
        words = prompt.stopping(room.machine.progress)
        room.tell(words)
        raise RecordError(f"{error}. {words}") from error
    finally:
        room.leave()


def _run(session: Session, room: LiveRoom, started: Started) -> bool:
    session.take(started)
    tick = QUIET_TICK_SECONDS if room.hearing is None and room.speech is None else TICK_SECONDS
    due = room.clock.now() + tick
    while True:
        letter = room.events.get(due)
        if isinstance(letter, InboxEnd):
            return False
        if letter is not None and _take(session, room, letter):
            return True
        now = room.clock.now()
        if letter is None or now >= due:
            due = now + tick
            _tick(session, room, now)


def _take(session: Session, room: LiveRoom, letter: Letter) -> bool:
    """Work on one letter; True when it was the end of the last word."""
    if isinstance(letter, Mark):
        room.pass_mark(letter)
        return False
    room.worked += 1
    if isinstance(letter, InboxEnd):
        return False
    if isinstance(letter, (Answered, Misheard)):
        room.refusal = letter.reason.value if isinstance(letter, Misheard) else "answers nothing here"
    session.take(letter)
    is_last_word = isinstance(letter, PlaybackEnded) and letter.turn == room.machine.turn
    return session.is_finished and is_last_word


def _tick(session: Session, room: LiveRoom, now: float) -> None:
    """Time went by: it waits for nobody, but for an answer that is being spoken."""
    room.look(now)
    if room.hearing is None or not room.hearing.is_hearing(now):
        session.take(Ticked(now))
    room.show()
