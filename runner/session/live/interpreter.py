"""From what a listener gives out to the events of the run, by the phrases of each turn."""

from collections.abc import Callable
from typing import Final

from runner.core.event import (
    Answered,
    Channel,
    Event,
    Misheard,
    NoteEnded,
    Reason,
    RoomGrewLoud,
    RoomGrewQuiet,
)
from runner.language.force import InForce, understand
from runner.voice.listen.noise import Loudness
from runner.voice.listen.result import Recorded, Result, RoomChanged, UtteranceHeard
from runner.voice.port import RATE, Hearing, Samples

SURE_FROM: Final = 0.5
"""An answer less likely than this is asked again; engines refuse most of these themselves."""


class Interpreter:
    """Knows the phrases of this turn and of the one before, whose answer may still be being spoken."""

    def __init__(self, keep_clip: Callable[[Samples], str]) -> None:
        self._keep_clip = keep_clip
        self._force: dict[int, InForce] = {}

    def listen(self, turn: int, in_force: InForce) -> None:
        """These phrases belong to this turn."""
        self._force = {number: force for number, force in self._force.items() if number >= turn - 1}
        self._force[turn] = in_force

    def event_of(self, result: Result) -> Event | None:
        """The event that a result is; None for levels and the beginning of speech, which are none."""
        match result:
            case UtteranceHeard(turn, hearing):
                return self._answer(turn, hearing)
            case RoomChanged(at, room, dbfs):
                return (RoomGrewLoud if room is Loudness.TOO_LOUD else RoomGrewQuiet)(at, dbfs)
            case Recorded(_, samples, _, decided_at):
                clip = self._keep_clip(samples) if len(samples) else ""
                return NoteEnded(decided_at, clip, len(samples) / RATE)
            case _:
                return None

    def _answer(self, turn: int, hearing: Hearing) -> Event:
        """An answer to a turn whose phrases are gone came too late: the machine finds it stale."""
        in_force = self._force.get(turn)
        if in_force is None:
            return Misheard(hearing.ended_at, turn, Reason.UNKNOWN, hearing.text, hearing.confidence)
        return answer_event(hearing, turn, in_force)


def answer_event(hearing: Hearing, turn: int, in_force: InForce) -> Answered | Misheard:
    """An answer when the text is exactly a phrase in force and likely enough; else why not."""
    meaning = None if hearing.text is None else understand(hearing.text, in_force)
    if hearing.text is None or meaning is None:
        return Misheard(hearing.ended_at, turn, Reason.UNKNOWN, hearing.text, hearing.confidence)
    if hearing.confidence < SURE_FROM:
        return Misheard(hearing.ended_at, turn, Reason.UNSURE, hearing.text, hearing.confidence)
    return Answered(
        at=hearing.ended_at,
        turn=turn,
        meaning=meaning,
        text=hearing.text,
        confidence=hearing.confidence,
        onset_at=hearing.onset_at,
        channel=Channel.VOICE,
    )
