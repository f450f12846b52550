"""A room without a sound card: prompts, a scripted pilot and noise on one simulated audio clock."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final, Protocol

import numpy as np

from runner.core.event import Event, NoteEnded, PlaybackEnded, RoomGrewLoud, RoomGrewQuiet, Ticked
from runner.language.force import InForce
from runner.session.answer import answer_event
from runner.session.pilot import Moment, Pilot
from runner.session.script import Line
from runner.voice.listener import Listener
from runner.voice.noise import Room
from runner.voice.port import RATE, Block, Samples
from runner.voice.result import Heard, Recorded, Result, RoomChanged

BLOCK: Final = 480
"""Samples of a block: 30 ms."""

TICK_SECONDS: Final = 0.25

BLEED: Final = 0.05
"""Share of the prompts that the microphone hears from the loudspeaker: 26 dB down, a headset's leak."""


class Studio(Protocol):
    """Makes the sounds of a scripted run, at 16 kHz."""

    def prompt(self, text: str) -> Samples:
        """What the tool says."""
        ...

    def line(self, line: Line) -> Samples:
        """What the pilot says; its first sample is the onset of speech."""
        ...

    def noise(self, samples: int) -> Samples:
        """The next stretch of the room's noise."""
        ...


@dataclass(frozen=True, slots=True)
class Spoken:
    """One thing said by the pilot: the truth that recognition is compared with."""

    line: Line
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
    get_moment: Callable[[World], Moment]
    """Asks the session where the run stands; set once both exist."""
    keep_clip: Callable[[Samples], str]
    """Stores a note's sound and gives its name."""
    events: deque[Event] = field(default_factory=deque)
    spoken: list[Spoken] = field(default_factory=list)
    tape: list[Samples] = field(default_factory=list)
    """Prompts and microphone together: what a bystander with both in the ear would hear."""
    silent_since: float | None = None
    _prompt: _Playing | None = None
    _speech: _Playing | None = None
    _force: dict[int, InForce] = field(default_factory=dict)
    _ticked_at: float = 0.0

    def say(self, turn: int, text: str) -> None:
        """Begin a prompt, cutting short the one before."""
        self._prompt = _Playing(self.studio.prompt(text), turn)
        self.silent_since = None
        self.listener.playback_started()

    def listen(self, turn: int, in_force: InForce) -> None:
        """Phrases of this turn; those of the turn before count for what is being said."""
        self._force = {number: force for number, force in self._force.items() if number >= turn - 1}
        self._force[turn] = in_force
        self.listener.expect(turn, in_force.phrases)

    def record_note(self, turn: int) -> None:
        """The next thing said is a note."""
        self.listener.record(turn)

    def show(self) -> None:
        """Nobody looks at a scripted run's screen."""

    def step(self) -> None:
        """Let one block go by."""
        started_at, self.now = self.now, self.now + BLOCK / RATE
        prompt = self._prompt.take(BLOCK) if self._prompt else np.zeros(BLOCK, np.float32)
        heard = self.studio.noise(BLOCK) + BLEED * prompt + self._next_speech(started_at)
        self.tape.append(prompt + heard)
        for result in self.listener.hear(Block(heard.astype(np.float32), started_at)):
            self._take(result)
        self._end_prompt()
        if self.now >= self._ticked_at + TICK_SECONDS and not self.listener.is_hearing:
            self._ticked_at = self.now
            self.events.append(Ticked(self.now))

    def _next_speech(self, now: float) -> Samples:
        if self._speech is None:
            line = self.pilot.next_line(self.get_moment(self))
            if line is None:
                return np.zeros(BLOCK, np.float32)
            self._speech = _Playing(self.studio.line(line))
            self.spoken.append(Spoken(line, now, now + len(self._speech.samples) / RATE))
        piece = self._speech.take(BLOCK)
        if self._speech.is_over:
            self._speech = None
        return piece

    def _end_prompt(self) -> None:
        if self._prompt is not None and self._prompt.is_over:
            self.silent_since = self.now
            self.listener.playback_ended(self.now)
            self.events.append(PlaybackEnded(self.now, self._prompt.turn))
            self._prompt = None

    def _take(self, result: Result) -> None:
        match result:
            case Heard(turn, hearing):
                self.events.append(answer_event(hearing, turn, self._force[turn]))
            case RoomChanged(at, room, dbfs):
                grew = RoomGrewLoud if room is Room.TOO_LOUD else RoomGrewQuiet
                self.events.append(grew(at, dbfs))
            case Recorded(_, samples, _, decided_at):
                clip = self.keep_clip(samples) if len(samples) else ""
                self.events.append(NoteEnded(decided_at, clip, len(samples) / RATE))
            case _:
                pass
