"""The levels: how much is hidden, and what else wants the student's ear."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class DrillLevel:
    """One level, by what it adds."""

    faults: int
    """Hidden in the airplane where none is named."""
    words: str
    """For who chooses one."""
    is_asked: bool = False
    """Each of them changes the true answer of an item; else some show only to who looks around."""
    is_pressed: bool = False
    """There is a time by which the check should be done."""
    interruptions: int = 0
    has_dangers: bool = False
    """Something around the airplane may not be as it should."""
    has_bad_contacts: bool = False
    """Faults may come and go."""
    is_emergency: bool = False
    """At night in cloud, instead of the check."""
    is_noisy: bool = False
    """A ramp's noise and other people's radio under whatever is said."""


LEVELS: Final = {
    1: DrillLevel(1, "one fault, all the time in the world", is_asked=True),
    2: DrillLevel(2, "two faults and a departure time", is_asked=True, is_pressed=True),
    3: DrillLevel(
        2,
        "two faults, some that come and go, a departure time, and people who interrupt",
        is_pressed=True,
        interruptions=2,
        has_dangers=True,
        has_bad_contacts=True,
    ),
    4: DrillLevel(
        3,
        "three faults, with a ramp's noise and other people's radio in the headphones",
        is_pressed=True,
        interruptions=3,
        has_dangers=True,
        has_bad_contacts=True,
        is_noisy=True,
    ),
    5: DrillLevel(
        1,
        "at night in cloud, something smells hot: recognise, hand over, shed, choose where to go",
        interruptions=1,
        is_noisy=True,
        is_emergency=True,
    ),
}
"""By number; each keeps what the one before has; the last leaves the ramp."""
SECONDS_EACH: Final = 12.0
"""Time pressure: what an item is given on average, with the longest gyro's advise time on top; ours."""
