"""The watchdog: tells from missing blocks that a microphone is gone, since no sound library says so."""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Watchdog:
    """When a block last came; `after_...` give the next value."""

    last_at: float
    """When a block last ended (at first: when the microphone was opened), seconds since the epoch."""
    limit: float = 1.5
    """Seconds without a block after which the microphone counts as lost."""
    is_lost: bool = False

    def after_block(self, ended_at: float) -> "Watchdog":
        """A block has come: the microphone is there."""
        return replace(self, last_at=max(self.last_at, ended_at), is_lost=False)

    def after_time(self, now: float) -> "Watchdog":
        """Time has gone by."""
        return replace(self, is_lost=self.is_lost or now - self.last_at >= self.limit)
