"""A lesson: asks for each phrase, listens with the usual endpoint, and keeps what was said for every ear."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Protocol

from runner.errors import AudioError
from runner.voice.lesson.lesson import LESSON, Ask
from runner.voice.lesson.trial import Trial
from runner.voice.listen.echo import EchoGate
from runner.voice.listen.endpoint import Patience
from runner.voice.listen.listener import Listener
from runner.voice.listen.result import UtteranceHeard
from runner.voice.port import Block, Guess, Hearing, Recogniser

SILENCE_SECONDS: Final = 4.0
"""Of the room alone, before the first phrase."""
WAIT_SECONDS: Final = 8.0
"""From the end of the prompt to the beginning of speech."""
MOST_SILENT: Final = 3
"""Phrases in a row of which nothing was heard: then something is wrong with the microphone."""

WELCOME: Final = (
    "Say each phrase as you would beside the airplane. First the room alone: be silent for four seconds."
)


class Booth(Protocol):
    """Where a lesson takes place: a microphone and, perhaps, a loudspeaker."""

    def ask(self, words: str) -> float:
        """Show and speak; gives the time at which that was over, on the audio clock."""
        ...

    def next_block(self) -> Block:
        """The microphone's next block; AudioError when the microphone is gone."""
        ...


@dataclass(frozen=True, slots=True)
class Said:
    """One phrase as it was said: first, and again if it was not understood."""

    ask: Ask
    first: tuple[Block, ...]
    """The first time, as a recogniser was fed with it; empty when nothing was said."""
    second: tuple[Block, ...] = ()
    is_understood_late: bool = False
    """Understood at the second time only."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """All that was said in it."""

    floor_dbfs: float
    """The room in silence, in the speech band."""
    said: tuple[Said, ...]


class Teacher:
    """Gives the lesson in a booth; `ear`, at its shipped threshold, ends utterances and is asked first."""

    def __init__(
        self,
        booth: Booth,
        ear: Recogniser,
        *,
        has_headset: bool = False,
        patience: Patience = Patience.NORMAL,
    ) -> None:
        self._booth, self._ear = booth, _TapedEar(ear)
        gate = EchoGate(has_headset=has_headset)
        self._listener = Listener(self._ear, gate=gate, patience=patience)
        self._turn = 0

    def teach(self, asks: Sequence[Ask] = LESSON) -> Lesson:
        """The whole lesson; AudioError when the microphone is gone, or hears nothing."""
        floor_dbfs = self._hear_room()
        said: list[Said] = []
        for number, ask in enumerate(asks, 1):
            said.append(self._take(ask, f"{number} of {len(asks)}."))
            latest = said[-MOST_SILENT:]
            if len(latest) == MOST_SILENT and not any(each.first or each.second for each in latest):
                raise AudioError(
                    f"{MOST_SILENT} phrases in a row were not heard at all; see `eyesout mic` for the level"
                )
        return Lesson(floor_dbfs, tuple(said))

    def _hear_room(self) -> float:
        self._prompt(WELCOME)
        until = self._booth.next_block().ended_at + SILENCE_SECONDS
        at = 0.0
        while at < until:
            block = self._booth.next_block()
            self._listener.hear(block)
            at = block.ended_at
        return self._listener.floor.dbfs

    def _take(self, ask: Ask, lead: str) -> Said:
        first, is_understood = self._hear(ask, f"{lead} {_invitation(ask)}")
        if is_understood:
            return Said(ask, first)
        why = "I did not understand that" if first else "I heard nothing"
        second, is_late = self._hear(ask, f"{why}. {_invitation(ask)}")
        return Said(ask, first, second, is_understood_late=is_late)

    def _hear(self, ask: Ask, words: str) -> tuple[tuple[Block, ...], bool]:
        """What is said next, and whether that will do: an answer understood, or any other thing refused."""
        self._listener.expect(self._turn, ())
        prompted_at = self._prompt(words)
        self._turn += 1
        self._listener.expect(self._turn, ask.phrases)
        while True:
            block = self._booth.next_block()
            for result in self._listener.hear(block):
                if isinstance(result, UtteranceHeard):
                    guess = result.hearing.text
                    return self._ear.tape, ask.is_right(guess) if ask.is_answer else guess is None
            if not self._listener.is_hearing and block.ended_at > prompted_at + WAIT_SECONDS:
                return (), False

    def _prompt(self, words: str) -> float:
        self._listener.playback_started()
        ended_at = self._booth.ask(words)
        self._listener.playback_ended(ended_at)
        return ended_at


def judge(ear: Recogniser, said: Sequence[Said]) -> tuple[Trial, ...]:
    """What an ear at threshold 0 makes of each phrase as it was first said."""
    trials = []
    for each in said:
        ear.expect(each.ask.phrases)
        for block in each.first:
            ear.feed(block)
        trials.append(each.ask.trial(ear.finish()))
    return tuple(trials)


def _invitation(ask: Ask) -> str:
    return f"Say: {ask.phrase}." if ask.is_answer else f"This is no answer. Say: {ask.phrase}."


class _TapedEar:
    """A recogniser in front of another one; `tape` is what the last utterance was made of."""

    def __init__(self, ear: Recogniser) -> None:
        self._ear, self.name = ear, ear.name
        self._fed: list[Block] = []
        self.tape: tuple[Block, ...] = ()

    def missing_words(self, phrases: Sequence[str]) -> tuple[str, ...]:
        """As the other."""
        return self._ear.missing_words(phrases)

    def expect(self, phrases: Sequence[str]) -> None:
        """As the other."""
        self._ear.expect(phrases)

    def feed(self, block: Block, silence_seconds: float = 0.0) -> Guess:
        """Keep the block and pass it on."""
        self._fed.append(block)
        return self._ear.feed(block, silence_seconds)

    def finish(self) -> Hearing:
        """The utterance is over, and on the tape."""
        self.tape, self._fed = tuple(self._fed), []
        return self._ear.finish()
