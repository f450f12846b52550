"""From what an ear made of an utterance to the event that the machine understands."""

from typing import Final

from runner.core.event import Answered, Channel, Misheard, Reason
from runner.language.force import InForce, understand
from runner.voice.port import Hearing

SURE_FROM: Final = 0.5
"""An answer less likely than this is asked again; engines refuse most of these themselves."""


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
