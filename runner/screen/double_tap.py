"""Double taps: a second press so soon after an answer that nobody can have read what it would answer.

Pure: it compares the times that the key events bring themselves, so that a slow screen changes nothing.
"""

from dataclasses import dataclass
from typing import Final

from runner.language.meaning import Picked, Value
from runner.screen.keys import Answering, KeyedAnswer, Refused
from runner.screen.view import View

EVERYDAY_SECONDS: Final = 0.3
CRITICAL_SECONDS: Final = 1.0
"""At a critical item or a stop: in under a second nobody has looked (NTSB/AAR-89/04, as for haste)."""


@dataclass(frozen=True, slots=True)
class Tap:
    """A key that answered something, or was held back as too soon."""

    key: str
    at: float
    """Seconds on the clock of the key events."""
    turn: int
    """The turn that it answered; a key held back keeps the turn of the answer before it."""


def guard(intent: Answering, tap: Tap, view: View, last: Tap | None) -> Answering:
    """The intent of this tap, or why it comes too soon after the last answer.

    A gyro's flag is never too soon: two may pull at once, and neither has the other's key.
    """
    if last is None or last.turn == view.turn or not isinstance(intent, KeyedAnswer):
        return intent
    is_item = isinstance(intent.meaning, Picked | Value)
    seconds = CRITICAL_SECONDS if view.is_critical or view.stop else EVERYDAY_SECONDS
    if (is_item or tap.key == last.key) and tap.at - last.at < seconds:
        return Refused("too soon after the last answer; look, then press it again")
    return intent


def tapped(intent: Answering, tap: Tap, last: Tap | None) -> Tap | None:
    """What the next tap is compared with: the newest answer; a key that is held down goes on counting."""
    if isinstance(intent, KeyedAnswer):
        return tap
    if isinstance(intent, Refused) and last is not None and tap.key == last.key:
        return Tap(tap.key, tap.at, last.turn)
    return last
