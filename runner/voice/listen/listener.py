"""The listener: blocks go in, what was heard comes out; the same for a sound card and for a script.

Echo gate > noise floor > pre-roll > recogniser > endpoint. It owns no thread, device or clock:
whoever feeds it blocks also tells it, on the same thread, when prompts begin and end.
"""

import contextlib
from collections.abc import Sequence

from runner.voice.listen.echo import EchoGate
from runner.voice.listen.endpoint import PAUSES, Patience, SpeechPhase
from runner.voice.listen.level import get_dbfs, get_speech_dbfs, is_speech
from runner.voice.listen.noise import NoiseFloor
from runner.voice.listen.result import Level, Recorded, Result, RoomChanged, SpeechStarted, UtteranceHeard
from runner.voice.listen.utterance import Purpose, begin_utterance
from runner.voice.port import Block, Recogniser

NOTE_WAIT_SECONDS = 10.0
"""A note that nobody speaks ends after this."""


class Listener:
    """Fed with `hear`; told what to listen for by `expect` and `record`, and of prompts by `playback_...`."""

    def __init__(
        self,
        recogniser: Recogniser,
        *,
        gate: EchoGate | None = None,
        floor: NoiseFloor | None = None,
        patience: Patience = Patience.NORMAL,
    ) -> None:
        self._recogniser = recogniser
        self._gate = gate or EchoGate()
        self._floor = floor or NoiseFloor()
        self._pauses = PAUSES[patience]
        self._was_speech = False
        self._turn, self._purpose = 0, Purpose.NOTHING
        self._now = begin_utterance(self._turn, self._purpose, self._pauses)

    @property
    def floor(self) -> NoiseFloor:
        """The room by now."""
        return self._floor

    @property
    def is_hearing(self) -> bool:
        """Someone is speaking: what is not urgent had better wait."""
        return self._now.has_begun

    def expect(self, turn: int, phrases: Sequence[str]) -> None:
        """From the next utterance on, these phrases are in force; with none, nothing is listened to.

        An answer that is being spoken goes on, and comes out under its own turn.
        """
        self._turn, self._purpose = turn, Purpose.ANSWER if phrases else Purpose.NOTHING
        self._recogniser.expect(phrases)
        if not (self._now.has_begun and self._now.purpose is Purpose.ANSWER):
            self._begin()

    def record(self, turn: int) -> None:
        """The next utterance is a note: its sound is kept and not recognised."""
        self._turn, self._purpose = turn, Purpose.NOTE
        self._give_up()

    def close_note(self, at: float) -> list[Result]:
        """End the note that is being recorded, at this time; nothing when there is none."""
        return [self._end(at)] if self._now.purpose is Purpose.NOTE else []

    def start_over(self) -> None:
        """Forget what is being said, even where the recogniser cannot end it."""
        self._begin()
        with contextlib.suppress(Exception):
            self._recogniser.finish()

    def playback_started(self) -> None:
        """A prompt begins: what is being said now is given up, unless a headset keeps the two apart."""
        self._gate = self._gate.after_start()
        if not self._gate.has_headset:
            self._give_up()

    def playback_ended(self, at: float) -> None:
        """The prompt has truly ended, by the loudspeaker's own word."""
        self._gate = self._gate.after_end(at)

    def hear(self, block: Block) -> list[Result]:
        """Take in one block and give out what came of it, in order; a Level is always among it."""
        if not self._gate.lets_through(block):
            self._was_speech = False
            return [self._measure(block, is_gated=True)]
        dbfs, before = get_speech_dbfs(block.samples), self._floor
        self._was_speech = is_speech(dbfs, before.dbfs, before.unrest_db, was_speech=self._was_speech)
        self._floor = before.after(block.seconds, dbfs)
        results: list[Result] = []
        if self._floor.room is not before.room:
            results.append(RoomChanged(block.ended_at, self._floor.room, self._floor.dbfs))
        if self._now.purpose is not Purpose.NOTHING:
            results.extend(self._follow(block))
        return [*results, self._measure(block, is_gated=False)]

    def _measure(self, block: Block, *, is_gated: bool) -> Level:
        dbfs, floor = get_dbfs(block.samples), self._floor.dbfs
        return Level(block.ended_at, dbfs, floor, is_speech=self._was_speech, is_gated=is_gated)

    def _follow(self, block: Block) -> list[Result]:
        """Move along the utterance by one block."""
        before, now = self._now, self._now.after(block, is_speech=self._was_speech)
        self._now = now
        if not now.has_begun:
            is_over = now.purpose is Purpose.NOTE and now.waited >= NOTE_WAIT_SECONDS
            return [self._end(block.ended_at)] if is_over else []
        results: list[Result] = [] if before.has_begun else [SpeechStarted(block.ended_at)]
        self._take(now.get_new_blocks(block))
        if self._now.endpoint.phase is SpeechPhase.ENDED:
            results.append(self._end(block.ended_at))
        return results

    def _take(self, blocks: tuple[Block, ...]) -> None:
        if self._now.purpose is Purpose.NOTE:
            self._now = self._now.kept(blocks)
            return
        for block in blocks:
            guess = self._recogniser.feed(block, self._now.endpoint.silence)
        self._now = self._now.guessed(guess)

    def _end(self, at: float) -> Result:
        """Give out the utterance and begin the next."""
        over = self._now
        if over.purpose is Purpose.ANSWER:
            heard = UtteranceHeard(over.turn, self._recogniser.finish(), at)
            self._begin()
            return heard
        self._purpose = Purpose.NOTHING
        self._begin()
        started_at = over.clip[0].started_at if over.clip else at
        return Recorded(over.turn, over.get_clip(), started_at, at)

    def _give_up(self) -> None:
        """Throw away what is being said, if anything, and begin again."""
        if self._now.has_begun and self._now.purpose is Purpose.ANSWER:
            self._recogniser.finish()
        self._begin()

    def _begin(self) -> None:
        self._now = begin_utterance(self._turn, self._purpose, self._pauses)
