"""The session's clock: seconds since the epoch that never jump, fixed when the session begins."""

import time
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class SteadyClock:
    """Wall-clock time at the start, counted on monotonically: setting the wall clock moves no timer."""

    offset: float = field(default_factory=lambda: time.time() - time.monotonic())

    def now(self) -> float:
        """Seconds since the epoch."""
        return time.monotonic() + self.offset
