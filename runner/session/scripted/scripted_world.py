"""A room without a sound card: prompts, a scripted pilot and noise on one simulated audio clock."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final, Protocol

import numpy as np

from runner.core.event import Answered, Channel, Event, PlaybackEnded, Ticked
from runner.errors import FileError
from runner.language.force import InForce, understand
from runner.session.live.interpreter import Interpreter
from runner.session.scripted.pilot_script import ScriptLine
from runner.session.scripted.scripted_pilot import Pilot, PilotMoment
from runner.voice.listen.listener import Listener
from runner.voice.port import RATE, Block, Samples
from runner.voice.sound import BLOCK_SAMPLES

TICK_SECONDS: Final = 0.25

BLEED: Final = 0.05
"""Share of the prompts that the microphone hears from the loudspeaker: 26 dB down, a headset's leak."""


class Studio(Protocol):
    """Makes the sounds of a scripted run, at 16 kHz."""

    def prompt(self, text: str, read_back: tuple[str, ...] = ()) -> Samples:
        """What the tool says, these sentences of it as read-backs."""
        ...

    def line(self, line: ScriptLine) -> Samples:
        """What the pilot says; its first sample is the onset of speech."""
        ...

    def noise(self, samples: int) -> Samples:
        """The next stretch of the room's noise."""
        ...


@dataclass(frozen=True, slots=True)
class Spoken:
    """One thing said by the pilot: the truth that recognition is compared with."""

    line: ScriptLine
    onset_at: float
    ended_at: float


@dataclass(slots=True)
class _Playing:
    """Sound on its way out, and how far it has got."""

    samples: Samples
    turn: int = 0
    position: int = 0

    def take(self, count: int) -> Samples:
        """The next `count` samples, padded with silence at the end."""
        piece = self.samples[self.position : self.position + count]
        self.position += count
        return np.pad(piece, (0, count - len(piece)))

    @property
    def is_over(self) -> bool:
        """Everything has been played."""
        return self.position >= len(self.samples)


@dataclass(slots=True)
class World:
    """Stage of a scripted run. `step` lets 30 ms go by and queues what happened."""

    pilot: Pilot
    listener: Listener
    studio: Studio
    now: float
    get_moment: Callable[[World], PilotMoment]
    """Asks the session where the run stands; set once both exist."""
    interpreter: Interpreter
    events: deque[Event] = field(default_factory=deque)
    spoken: list[Spoken] = field(default_factory=list)
    tape: list[Samples] = field(default_factory=list)
    """Prompts and microphone together: what a bystander with both in the ear would hear."""
    silent_since: float | None = None
    _prompt: _Playing | None = None
    _speech: _Playing | None = None
    _ticked_at: float = 0.0
    _turn: int = 0
    _in_force: InForce = field(default_factory=lambda: InForce({}))

    def say(self, turn: int, text: str, read_back: tuple[str, ...] = ()) -> None:
        """Begin a prompt, cutting short the one before."""
        self._prompt = _Playing(self.studio.prompt(text, read_back), turn)
        self.silent_since = None
        self.listener.playback_started()

    def listen(self, turn: int, in_force: InForce) -> None:
        """Phrases of this turn; those of the turn before count for what is being said."""
        self._turn, self._in_force = turn, in_force
        self.interpreter.listen(turn, in_force)
        self.listener.expect(turn, in_force.phrases)

    def record_note(self, turn: int) -> None:
        """The next thing said is a note."""
        self.listener.record(turn)

    def show(self) -> None:
        """Nobody looks at a scripted run's screen."""

    def step(self) -> None:
        """Let one block go by."""
        started_at, self.now = self.now, self.now + BLOCK_SAMPLES / RATE
        prompt = self._prompt.take(BLOCK_SAMPLES) if self._prompt else np.zeros(BLOCK_SAMPLES, np.float32)
        heard = self.studio.noise(BLOCK_SAMPLES) + BLEED * prompt + self._next_speech(started_at)
        self.tape.append(prompt + heard)
        for result in self.listener.hear(Block(heard.astype(np.float32), started_at)):
            event = self.interpreter.event_of(result)
            if event is not None:
                self.events.append(event)
        self._end_prompt()
        if self.now >= self._ticked_at + TICK_SECONDS and not self.listener.is_hearing:
            self._ticked_at = self.now
            self.events.append(Ticked(self.now))

    def _next_speech(self, now: float) -> Samples:
        if self._speech is None:
            line = self.pilot.next_line(self.get_moment(self))
            if line is None or line.key:
                self._press(line, now)
                return np.zeros(BLOCK_SAMPLES, np.float32)
            self._speech = _Playing(self.studio.line(line))
            self.spoken.append(Spoken(line, now, now + len(self._speech.samples) / RATE))
        piece = self._speech.take(BLOCK_SAMPLES)
        if self._speech.is_over:
            self._speech = None
        return piece

    def _press(self, line: ScriptLine | None, now: float) -> None:
        """The line's key goes down; FileError where its words are not in force."""
        if line is None:
            return
        meaning = understand(line.key, self._in_force)
        if meaning is None:
            raise FileError(line.place, f'"{line.key}" answers nothing there; write words that are in force')
        self.spoken.append(Spoken(line, now, now))
        self.events.append(Answered(now, self._turn, meaning, line.key, 1.0, now, Channel.KEYS))

    def _end_prompt(self) -> None:
        if self._prompt is not None and self._prompt.is_over:
            self.silent_since = self.now
            self.listener.playback_ended(self.now)
            self.events.append(PlaybackEnded(self.now, self._prompt.turn))
            self._prompt = None
