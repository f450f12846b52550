"""A simulated pilot: answers aloud as long as that is asked for, and by key where nothing came of it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from runner.core.ask.outlook import outlook_of
from runner.core.ask.phrases_now import phrases_in_force
from runner.core.event import Channel
from runner.core.grid.machine import Machine
from runner.core.state import FINAL, State
from runner.language.catalogue import Word
from runner.language.meaning import Command, Meaning, Picked, Pulled
from runner.session.live.live_room import LiveRoom
from runner.voice.port import Block
from tests.core.sample import meaning_by_the_book
from tests.session.simulation import Simulation

THINK_SECONDS: Final = 2.5
"""From a question to its answer."""
PATIENCE_SECONDS: Final = 4.0
"""When nothing came of what was said, a key is pressed."""
SPEECH_SECONDS: Final = 0.75
STEP_SECONDS: Final = 0.5
FLAGS: Final = {"left flag": 41.0, "right flag": 70.0}
"""Seconds from power-on to each flag: past both advise times, within both limits."""


@dataclass(frozen=True, slots=True)
class SaidBlock(Block):
    """A block with words in it; empty for the noise of a room."""

    text: str = ""


def quiet(at: float, text: str = "") -> SaidBlock:
    """A short block: the simulated ear reads its words, not its samples."""
    return SaidBlock(np.zeros(160, np.float32), at, text)


@dataclass
class SimulatedPilot:
    """Steps every half second of simulated time."""

    simulation: Simulation
    machine: Machine
    room: LiveRoom
    deliver: Callable[[SaidBlock], None]
    """Into the microphone."""
    onsets: list[tuple[Meaning, float]] = field(default_factory=list)
    """Everything that was said or keyed, and when it began: the truth."""
    _turn: int = -1
    _turn_at: float = 0.0
    _tried: tuple[Meaning, float] | None = None
    """What was said last and has not been taken."""
    _has_noted: bool = False
    _closed_at: float = 0.0

    def begin(self) -> None:
        """Step, and step again."""
        self.step()
        self.simulation.at(self.simulation.now() + STEP_SECONDS, self.begin)

    def step(self) -> None:
        """Answer when it is time to."""
        now, machine = self.simulation.now(), self.machine
        if machine.turn != self._turn:
            self._turn, self._turn_at = machine.turn, now
        if machine.state in FINAL or machine.state is State.READY or now < self._turn_at + THINK_SECONDS:
            return
        if machine.state is State.NOTING:
            self._has_noted = True
            self._speak_note(now)
            return
        meaning = self._flag(now) or self._next()
        if meaning is not None:
            self._give(meaning, now)

    def _flag(self, now: float) -> Meaning | None:
        for clock in self.machine.progress.open_clocks:
            if now - clock.started_at >= FLAGS[clock.item]:
                return Pulled(clock.item)
        return None

    def _next(self) -> Meaning | None:
        outlook = outlook_of(self.machine.progress)
        if outlook.state is State.WAITING:
            return None
        if outlook.item is not None and outlook.item.name == "lamps" and not self._has_noted:
            self._has_noted = self.machine.progress.is_deaf
            return None if self._has_noted else Command(Word.NOTE)
        return meaning_by_the_book(self.machine.progress)

    def _give(self, meaning: Meaning, now: float) -> None:
        """Aloud, or by key when aloud did not help or is not asked for."""
        if self._tried is not None and self._tried[0] == meaning:
            if now < self._tried[1] + PATIENCE_SECONDS:
                return
            self._key(meaning, now)
            return
        if self.machine.progress.channel is Channel.KEYS:
            self._key(meaning, now)
            return
        self._tried = meaning, now
        text = self._words(meaning)
        if text is None:
            self._key(meaning, now)
        else:
            self.onsets.append((meaning, now))
            self.simulation.at(now + SPEECH_SECONDS, lambda: self.deliver(quiet(now, text)))

    def _key(self, meaning: Meaning, now: float) -> None:
        self._tried = None
        self._has_noted = self._has_noted or meaning == Command(Word.NOTE)
        self.onsets.append((meaning, now))
        self.room.key(self.machine.turn, meaning, "key")

    def _words(self, meaning: Meaning) -> str | None:
        meanings = phrases_in_force(self.machine.progress).meanings
        return next((phrase for phrase, each in meanings.items() if each == meaning), None)

    def _speak_note(self, now: float) -> None:
        """Say it once; when it does not end, end it by key."""
        if self._tried is None or self._tried[0] != Command(Word.NOTE) or self._tried[1] < self._turn_at:
            self._tried = Command(Word.NOTE), now
            self.deliver(quiet(now, "a note"))
        elif now >= self._tried[1] + PATIENCE_SECONDS and now >= self._closed_at + PATIENCE_SECONDS:
            self._closed_at = now
            self.room.close_note()


def power_on_of(onsets: list[tuple[Meaning, float]]) -> list[float]:
    """When the selector was said to be moved."""
    return [at for meaning, at in onsets if meaning == Picked("reserve", "reserve")]


def flags_of(onsets: list[tuple[Meaning, float]], item: str) -> list[float]:
    """When a flag was called."""
    return [at for meaning, at in onsets if meaning == Pulled(item)]
