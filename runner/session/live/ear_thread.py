"""Hearing: the ear on its thread takes blocks and orders in turn and puts events into the session's inbox."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from runner.core.event import Event, MicBack, MicLost, NoteEnded, Port, PortBack, PortFailed
from runner.language.force import InForce
from runner.session.live.attendant import Attendant, Finish
from runner.session.live.interpreter import Interpreter
from runner.voice.card.audio_clock import Timekeeper
from runner.voice.listen.listener import Listener
from runner.voice.listen.noise import Loudness
from runner.voice.listen.result import Level, Recorded, Result, RoomChanged
from runner.voice.port import RATE, Block, Samples

WAITING_BLOCKS: Final = 400
"""12 seconds of sound; when recognition falls so far behind, the oldest sound is of no use any more."""

SILENT_SECONDS: Final = 4.0
"""A microphone that brings no block for so long, and has not said that its device is gone, has failed."""

SPEECH_SECONDS: Final = 6.0
"""So long a clock's question waits for who is speaking; no answer takes longer."""


class EarThread:
    """Runs a listener on its own thread. All methods may be called from any thread."""

    def __init__(
        self,
        listener: Listener,
        put: Callable[[Event], None],
        keep_clip: Callable[[Samples], str],
        clock: Timekeeper,
    ) -> None:
        self._listener, self._put, self._clock = listener, put, clock
        self._keep_clip = keep_clip
        self._interpreter = Interpreter(keep_clip)
        self.attendants = (Attendant(Port.EAR, clock, put), Attendant(Port.CLIP, clock, put))
        self._ear, self._clips = self.attendants
        self._block_at: float | None = None
        """When the last block came; None before the start and while the microphone is known to be gone."""
        self._is_microphone_lost = False
        self.level: Level | None = None
        """The newest level, for the meter."""
        self.room = Loudness.QUIET
        self._heard_since: float | None = None

    def start(self) -> None:
        """Begin to listen; from now on the microphone is expected to bring blocks."""
        self._block_at = self._clock.now()

    def close(self) -> bool:
        """End both threads; False when one hangs."""
        ended = [attendant.close() for attendant in self.attendants]
        return all(ended)

    def is_hearing(self, now: float) -> bool:
        """Someone is speaking now, and has not been for longer than an answer takes."""
        since = self._heard_since
        return since is not None and now - since < SPEECH_SECONDS and not self._ear.is_lost

    def look(self, now: float) -> None:
        """Give up what takes too long, and tell of a microphone that has fallen silent."""
        for attendant in self.attendants:
            attendant.look(now)
        if self._block_at is not None and now - self._block_at >= SILENT_SECONDS:
            self.microphone_failed(f"no sound for {SILENT_SECONDS:g} s")

    def deliver(self, block: Block) -> None:
        """A block from the microphone; dropped when the ear is hopelessly behind."""
        self._block_at = self._clock.now()
        if self._is_microphone_lost:
            self._is_microphone_lost = False
            self._put(PortBack(self._block_at, Port.MICROPHONE))
        if self._ear.waiting < WAITING_BLOCKS:
            self._ear.ask(lambda: self._hear(block))

    def microphone_changed(self, is_lost: bool, at: float) -> None:  # noqa: FBT001 - the microphone's callback
        """The device disappeared, or is back."""
        if is_lost:
            self._fall_silent()
        self._put((MicLost if is_lost else MicBack)(at))

    def microphone_failed(self, reason: str) -> None:
        """The microphone's own thread or library let us down."""
        self._fall_silent()
        if not self._is_microphone_lost:
            self._is_microphone_lost = True
            self._put(PortFailed(self._clock.now(), Port.MICROPHONE, reason))

    def listen(self, turn: int, in_force: InForce) -> None:
        """These phrases count from now on."""
        self._ear.ask(lambda: self._expect(turn, in_force))

    def record_note(self, turn: int) -> None:
        """The next thing said is a note; it ends at once when there is no ear."""
        if self._ear.is_lost:
            self._put(NoteEnded(self._clock.now(), "", 0.0))
        else:
            self._ear.ask(lambda: self._listener.record(turn))

    def close_note(self) -> None:
        """The note ends here, whatever is being said."""
        self._ear.ask(self._end_note)

    def prompt_started(self) -> None:
        """The loudspeaker begins."""
        self._ear.ask(self._listener.playback_started)

    def prompt_ended(self, at: float) -> None:
        """The loudspeaker has ended."""
        self._ear.ask(lambda: self._listener.playback_ended(at))

    def _fall_silent(self) -> None:
        self.level = None
        self._heard_since = None
        self._block_at = None

    def _hear(self, block: Block) -> Finish:
        try:
            results = self._listener.hear(block)
        except Exception:
            self._listener.start_over()
            raise
        is_hearing = self._listener.is_hearing

        def finish() -> None:
            since = self._heard_since or self._clock.now()
            self._heard_since = since if is_hearing else None
            for result in results:
                self._take(result)

        return finish

    def _expect(self, turn: int, in_force: InForce) -> None:
        self._interpreter.listen(turn, in_force)
        self._listener.expect(turn, in_force.phrases)

    def _end_note(self) -> Finish:
        results = self._listener.close_note(self._clock.now())

        def finish() -> None:
            for result in results:
                self._take(result)
            if not results:  # no note is being recorded: whoever waits for its end must not wait for ever
                self._put(NoteEnded(self._clock.now(), "", 0.0))

        return finish

    def _take(self, result: Result) -> None:
        if isinstance(result, Recorded) and len(result.samples):
            self._keep(result)
            return
        if isinstance(result, Level):
            self.level = result
        if isinstance(result, RoomChanged):
            self.room = result.room
        event = self._interpreter.event_of(result)
        if event is not None:
            self._put(event)

    def _keep(self, note: Recorded) -> None:
        """On a thread of its own: a disk that is full or hangs ends the note, and nothing else."""
        at, seconds = note.decided_at, len(note.samples) / RATE

        def work() -> Finish:
            clip = self._keep_clip(note.samples)
            return lambda: self._put(NoteEnded(at, clip, seconds))

        def miss() -> None:
            self._put(NoteEnded(self._clock.now(), "", 0.0))

        if self._clips.is_stuck:
            miss()
        else:
            self._clips.ask(work, miss)
