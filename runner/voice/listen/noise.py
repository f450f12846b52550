"""The noise floor: a level that follows the room, and whether an ear can still work in it."""

from dataclasses import dataclass, replace
from enum import StrEnum

from runner.voice.listen.level import SILENCE_DBFS


class Loudness(StrEnum):
    """How loud the room is, to an ear."""

    QUIET = "quiet"
    LOUD = "loud"
    TOO_LOUD = "too loud"


@dataclass(frozen=True, slots=True)
class RoomLimits:
    """Where the room's verdict changes; levels in dBFS of the speech band."""

    loud_dbfs: float = -42.0
    """From here on the room is loud."""
    too_loud_dbfs: float = -28.0
    """From here on keys must serve: speech into a headset lies near -22 dBFS."""
    hysteresis_db: float = 4.0
    """How far the floor must fall below a limit before the verdict goes back."""
    window_seconds: float = 5.0
    """Stretch of the past that the floor is taken from."""
    share: float = 0.2
    """Share of the window that lies at the floor or below; the rest may be speech."""
    settle_seconds: float = 1.0
    """The verdict stands still until this much has been heard."""


@dataclass(frozen=True, slots=True)
class NoiseFloor:
    """The room so far; `after` gives the next value. Feed it only with blocks that hold no prompt."""

    limits: RoomLimits = RoomLimits()
    recent: tuple[tuple[float, float], ...] = ()
    """Length in seconds and level in dBFS of each block in the window, oldest first."""
    heard_seconds: float = 0.0
    """Total length of `recent`."""
    dbfs: float = SILENCE_DBFS
    """The floor."""
    unrest_db: float = 0.0
    """How much the quieter part of the window varies: gusts need more to be told from speech."""
    room: Loudness = Loudness.QUIET

    def after(self, seconds: float, dbfs: float) -> "NoiseFloor":
        """The floor once a block of that length and speech-band level has been heard."""
        recent, heard = (*self.recent, (seconds, dbfs)), self.heard_seconds + seconds
        while heard - recent[0][0] >= self.limits.window_seconds:
            heard -= recent[0][0]
            recent = recent[1:]
        ranked = sorted(recent, key=lambda block: block[1])
        floor = _get_quantile(ranked, heard * self.limits.share)
        unrest = floor - _get_quantile(ranked, heard * self.limits.share / 4.0)
        settled = heard >= self.limits.settle_seconds
        room = _get_room(floor, self.room, self.limits) if settled else self.room
        return replace(self, recent=recent, heard_seconds=heard, dbfs=floor, unrest_db=unrest, room=room)


def _get_quantile(ranked: list[tuple[float, float]], seconds: float) -> float:
    """The level that `seconds` of the blocks, which come quietest first, do not pass."""
    passed, level = 0.0, SILENCE_DBFS
    for length, level in ranked:
        passed += length
        if passed >= seconds:
            return level
    return level


def _get_room(floor: float, before: Loudness, limits: RoomLimits) -> Loudness:
    slack = limits.hysteresis_db
    too_loud = limits.too_loud_dbfs - (slack if before is Loudness.TOO_LOUD else 0.0)
    loud = limits.loud_dbfs - (slack if before is not Loudness.QUIET else 0.0)
    if floor >= too_loud:
        return Loudness.TOO_LOUD
    return Loudness.LOUD if floor >= loud else Loudness.QUIET
