"""A gyro's wheel: it spins up against its bearings, pulls its flag at speed, and coasts when power goes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import exp, log
from typing import Final

PULL_SPEED: Final = 0.95
"""Share of full speed at which the flag pulls; ours."""
COAST_SECONDS: Final = 240.0
"""In which a wheel without power loses most of its speed; ours: good bearings coast for minutes."""
BACK_SECONDS: Final = 8.0
"""After which a flag that comes back does so; ours."""


@dataclass(frozen=True, slots=True)
class Wheel:
    """One gyro at one moment."""

    usual_seconds: float
    """From rest to the flag, at rated volts."""
    speed: float = 0.0
    """Share of full speed, 0 to 1."""
    is_powered: bool = False
    up_seconds: float = 0.0
    """Since it came up to speed; 0 below it."""

    def after(self, seconds: float, drive: float) -> Wheel:
        """The wheel some seconds later; `drive` is its volts over rated volts, 0 without power."""
        if drive <= 0:
            return replace(
                self, speed=self.speed * exp(-seconds / COAST_SECONDS), is_powered=False, up_seconds=0.0
            )
        constant = self.usual_seconds / -log(1 - PULL_SPEED) / drive
        speed = 1 - (1 - self.speed) * exp(-seconds / constant)
        is_up = speed >= PULL_SPEED
        return replace(
            self, speed=speed, is_powered=True, up_seconds=self.up_seconds + seconds if is_up else 0.0
        )

    @property
    def is_up(self) -> bool:
        """Fast enough, and with power: its flag pulls unless the flag is broken."""
        return self.is_powered and self.speed >= PULL_SPEED

    @property
    def has_been_up(self) -> bool:
        """Up for so long that a flag which comes back has done so."""
        return self.is_up and self.up_seconds >= BACK_SECONDS
