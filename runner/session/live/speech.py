"""Speech: prompts are rendered on one thread and played from another; a prompt always comes to an end."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Final, Protocol

from runner.core.event import Event, PlaybackEnded, Port
from runner.session.live.attendant import Attendant, Finish
from runner.session.live.prompt_mouth import Mouth
from runner.voice.card.audio_clock import Timekeeper
from runner.voice.port import Sound, Speaker

GRACE_SECONDS: Final = 4.0
"""A prompt whose end is not told so long after its length was not heard to its end."""
LOOK_SECONDS: Final = 0.25
FAREWELL: Final = -1
"""The turn of what is said after a run."""


class Gate(Protocol):
    """The ear's side of a prompt."""

    def prompt_started(self) -> None:
        """The loudspeaker begins."""
        ...

    def prompt_ended(self, at: float) -> None:
        """The loudspeaker has ended."""
        ...


class Speech:
    """Says one prompt at a time, the newest. Whatever fails or hangs, PlaybackEnded(turn) follows."""

    def __init__(
        self, mouth: Mouth, speaker: Speaker, clock: Timekeeper, put: Callable[[Event], None]
    ) -> None:
        self._mouth, self._speaker = mouth, speaker
        self._clock, self._put = clock, put
        self.gate: Gate | None = None
        """The ear that must not hear the prompts, if there is one."""
        self.attendants = (Attendant(Port.MOUTH, clock, put), Attendant(Port.SPEAKER, clock, put))
        self._rendering, self._playing = self.attendants
        self._newest = 0
        self._given_up: int | None = None
        """The latest turn that counts as said without having been heard."""
        self._played: tuple[int, float] | None = None
        """The turn that plays, and when its end is overdue."""
        self._farewell = threading.Event()

    def say(self, turn: int, text: str, read_back: tuple[str, ...] = ()) -> None:
        """Speak, cutting short what is said now; returns at once."""
        self._newest = turn
        if self._rendering.is_stuck:
            self._give_up(turn)
        else:
            self._rendering.ask(lambda: self._render(turn, text, read_back), lambda: self._give_up(turn))

    def tell(self, text: str) -> None:
        """Say something after the run and wait for its end, or for the limits of what hangs."""
        self._farewell.clear()
        self.say(FAREWELL, text)
        while not self._clock.wait(self._farewell, self._clock.now() + LOOK_SECONDS):
            self.look(self._clock.now())

    def look(self, now: float) -> None:
        """Give up what takes too long."""
        for attendant in self.attendants:
            attendant.look(now)
        played = self._played
        if played is not None and now >= played[1] and not self._playing.is_stuck:
            self._playing.fail("the end of a prompt was not told")
            self._give_up(played[0])

    def close(self) -> bool:
        """End both threads; False when one hangs."""
        ended = [attendant.close() for attendant in self.attendants]
        return all(ended)

    def _is_stale(self, turn: int) -> bool:
        """A newer prompt was asked for, or this one counts as said."""
        return turn != self._newest or turn == self._given_up

    def _render(self, turn: int, text: str, read_back: tuple[str, ...]) -> Finish | None:
        if self._is_stale(turn):
            return None
        sound = self._mouth.render(text, read_back)
        return lambda: self._hand_over(turn, sound)

    def _hand_over(self, turn: int, sound: Sound) -> None:
        if self._playing.is_stuck:
            self._give_up(turn)
        else:
            self._playing.ask(lambda: self._play(turn, sound), lambda: self._give_up(turn))

    def _play(self, turn: int, sound: Sound) -> None:
        if self._is_stale(turn):
            return
        if self.gate is not None:
            self.gate.prompt_started()
        self._played = turn, self._clock.now() + sound.seconds + GRACE_SECONDS
        self._speaker.play(sound, lambda at: self._end(turn, at))
        if self._playing.is_stuck:  # it was given up meanwhile: the ear is open, and nothing may sound
            self._speaker.stop()

    def _give_up(self, turn: int) -> None:
        """The question stands on the screen and counts as said; nothing older goes on sounding.

        The newest prompt may wait behind the call that hangs: then it counts as said as well.
        """
        if self._played is not None and not self._playing.is_stuck:
            self._playing.ask(self._speaker.stop)
        is_stuck = self._rendering.is_stuck or self._playing.is_stuck
        for each in dict.fromkeys((turn, self._newest if is_stuck else turn)):
            self._given_up = each
            self._end(each, self._clock.now())

    def _end(self, turn: int, at: float) -> None:
        """A prompt that was cut short by a newer one does not open the ear."""
        if self._played is not None and self._played[0] == turn:
            self._played = None
        if turn == self._newest and self.gate is not None:
            self.gate.prompt_ended(at)
        if turn == FAREWELL:
            self._farewell.set()
        else:
            self._put(PlaybackEnded(at, turn))
