"""The audio clock: seconds since the epoch that never jump, and smooth times for a stream's blocks."""

import threading
import time
from dataclasses import dataclass
from typing import Protocol


class Timekeeper(Protocol):
    """What a session asks of a clock, whether time is real or simulated."""

    def now(self) -> float:
        """Seconds since the epoch."""
        ...

    def wait(self, happened: threading.Event, until: float) -> bool:
        """Wait for it, but not past this time; True when it has happened."""
        ...


@dataclass(frozen=True, slots=True)
class AudioClock:
    """Seconds since the epoch, fixed to it once: setting the computer's clock does not move it."""

    offset: float
    """Epoch time minus monotonic time, in seconds."""

    def now(self) -> float:
        """Seconds since the epoch."""
        return time.monotonic() + self.offset

    def wait(self, happened: threading.Event, until: float) -> bool:
        """Wait for it, but not past this time; True when it has happened."""
        return happened.wait(max(0.0, until - self.now()))


def start_clock(not_before: float = 0.0) -> AudioClock:
    """A clock that agrees with the computer's now, or goes on from `not_before` where that is later."""
    return AudioClock(max(time.time(), not_before) - time.monotonic())


@dataclass(frozen=True, slots=True)
class SampleClock:
    """Times of blocks by counting samples, drawn slowly towards what the sound card says of each.

    A card's own times jitter by some milliseconds; a gap in them (lost blocks) is followed at once.
    """

    started_at: float
    """When the newest block began."""
    seconds: float
    """How long it lasts."""

    pull = 0.02
    """Share of the difference that each block makes good."""
    most = 0.08
    """A difference in seconds that can be no jitter."""

    def after(self, measured_at: float, seconds: float) -> "SampleClock":
        """With the next block, which the sound card says began at `measured_at`."""
        counted = self.started_at + self.seconds
        off = measured_at - counted
        started_at = measured_at if abs(off) > self.most else counted + self.pull * off
        return SampleClock(started_at, seconds)
