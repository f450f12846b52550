"""An utterance in the making: what the listener knows of what is being said now."""

from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np

from runner.voice.listen.endpoint import NOTE_PAUSES, Endpoint, Pauses, SpeechPhase
from runner.voice.port import Block, Guess, Samples


class Purpose(StrEnum):
    """What is listened for."""

    NOTHING = "nothing"
    ANSWER = "answer"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class PreRoll:
    """The newest blocks, oldest first, so that no first sound is cut; `after` gives the next."""

    seconds: float = 0.5
    """At least this much is kept, once it has been heard."""
    blocks: tuple[Block, ...] = ()

    def after(self, block: Block) -> "PreRoll":
        """With one more block at the end, and without what is too old."""
        blocks = (*self.blocks, block)
        while len(blocks) > 1 and sum(kept.seconds for kept in blocks[1:]) >= self.seconds:
            blocks = blocks[1:]
        return replace(self, blocks=blocks)

    def emptied(self) -> "PreRoll":
        """The same length, with nothing in it."""
        return replace(self, blocks=())


@dataclass(frozen=True, slots=True)
class Utterance:
    """One utterance so far; a new one is built for the next."""

    turn: int
    """The turn in force when it began."""
    purpose: Purpose
    endpoint: Endpoint
    preroll: PreRoll = field(default_factory=PreRoll)
    clip: tuple[Block, ...] = field(default=(), repr=False)
    """What a note has kept so far."""
    waited: float = 0.0
    """Seconds that nobody spoke."""

    @property
    def has_begun(self) -> bool:
        """Someone is speaking or has spoken."""
        return self.endpoint.phase is not SpeechPhase.WAITING

    def after(self, block: Block, *, is_speech: bool) -> "Utterance":
        """Once one more block has been heard."""
        endpoint = self.endpoint.after(block.seconds, is_speech=is_speech)
        if endpoint.phase is SpeechPhase.WAITING:
            waited = self.waited + block.seconds
            return replace(self, endpoint=endpoint, preroll=self.preroll.after(block), waited=waited)
        return replace(self, endpoint=endpoint)

    def get_new_blocks(self, block: Block) -> tuple[Block, ...]:
        """What the newest block adds to what was said: with the first one comes the pre-roll."""
        return (*self.preroll.blocks, block)

    def kept(self, blocks: tuple[Block, ...]) -> "Utterance":
        """With more blocks of a note."""
        return replace(self, clip=(*self.clip, *blocks), preroll=self.preroll.emptied())

    def guessed(self, guess: Guess) -> "Utterance":
        """With what the recogniser thinks by now, which may end it."""
        endpoint = self.endpoint.guessed(guess.more, guess.quiet)
        return replace(self, endpoint=endpoint, preroll=self.preroll.emptied())

    def get_clip(self) -> Samples:
        """The sound of a note, in one piece."""
        pieces = [block.samples for block in self.clip]
        return np.concatenate(pieces) if pieces else np.zeros(0, np.float32)


def begin_utterance(turn: int, purpose: Purpose, pauses: Pauses) -> Utterance:
    """A new utterance, in which nobody has spoken yet; a note has its own pauses."""
    endpoint = Endpoint(NOTE_PAUSES if purpose is Purpose.NOTE else pauses)
    return Utterance(turn, purpose, endpoint)
