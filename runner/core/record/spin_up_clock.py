"""A gyro's spin-up clock: when it runs out of patience, and what its time means."""

from dataclasses import dataclass

from runner.checklist.kind.spin_up import SpinUp
from runner.core.record.entry import ClockAdvised, ClockEnded, ClockLimitPassed


@dataclass(frozen=True, slots=True)
class SpinUpClock:
    """One gyro's time from power-on."""

    item: str
    """The spin-up item's name."""
    started_at: float
    """Onset of the answer that gave it power, seconds since the epoch."""
    is_advised: bool = False
    is_limit_passed: bool = False
    ended: ClockEnded | None = None

    @property
    def is_open(self) -> bool:
        """True while its flag has neither pulled nor been declared stuck."""
        return self.ended is None

    def elapsed(self, at: float) -> float:
        """Seconds since power-on, or to the end of the clock."""
        if self.ended is not None:
            return self.ended.seconds
        return max(0.0, seconds_between(self.started_at, at))


def seconds_between(started_at: float, at: float) -> float:
    """A span in whole milliseconds: finer than any onset, coarser than the noise of epoch floats."""
    return round(at - started_at, 3)


def due_entries(clock: SpinUpClock, body: SpinUp, at: float) -> tuple[ClockAdvised | ClockLimitPassed, ...]:
    """What an open clock owes the record at this time: its advise time, its limit, both or neither."""
    if not clock.is_open:
        return ()
    seconds = clock.elapsed(at)
    owed: list[ClockAdvised | ClockLimitPassed] = []
    if seconds >= body.advise_seconds and not clock.is_advised:
        owed.append(ClockAdvised(at, clock.item))
    if seconds >= body.limit_seconds and not clock.is_limit_passed:
        owed.append(ClockLimitPassed(at, clock.item))
    return tuple(owed)
