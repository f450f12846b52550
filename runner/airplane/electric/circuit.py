"""A circuit as numbers: sources, conductors and drains between numbered nodes, with what each lets through.

Everything is piecewise linear in the volts but constant power. Ground is no node; every volt is against it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]

LEAST_SIEMENS: Final = 1e-6
"""From every node to ground, as circuit simulators have it, so that no node floats: 30 microamperes at
most."""


@dataclass(frozen=True, slots=True)
class Circuit:
    """Sources (k), conductors (m) and drains of n nodes."""

    source_at: Numbers
    """(k, n): 1 where a source feeds a node."""
    emf: Numbers
    """Volts of each source at no current."""
    source_siemens: Numbers
    limit: Numbers
    """The most amperes that each source gives; past it, it sags."""
    charge_siemens: Numbers
    charge_limit: Numbers
    """The most amperes that each source takes: 0 for all but batteries."""
    ends: Numbers
    """(m, n): 1 at the start of a conductor and -1 at its end."""
    siemens: Numbers
    drop: Numbers
    """Forward volts of each diode; 0 for the others."""
    least: Numbers
    """Volts over a conductor, beyond its drop, under which it lets nothing back: 0 or minus infinity."""
    amps: Numbers
    """(n) Taken at any volts."""
    watts: Numbers
    """(n) Taken as constant power."""
    drain_siemens: Numbers
    """(n) Taken as resistance; LEAST_SIEMENS at the least."""
    knee: float
    """Volts under which constant current and power give way to the resistance that they are there."""

    def source_amps(self, volts: Numbers) -> tuple[Numbers, Numbers]:
        """Amperes out of each source at the nodes' volts, and how fast they fall as volts rise."""
        above = self.emf - self.source_at @ volts
        slope = np.where(above >= 0, self.source_siemens, self.charge_siemens)
        free = above * slope
        amps = np.minimum(np.maximum(free, -self.charge_limit), self.limit)
        return amps, slope * (free == amps)

    def conductor_amps(self, volts: Numbers) -> tuple[Numbers, Numbers]:
        """Amperes from start to end of each conductor, and how fast they grow with the volts over it."""
        over = self.ends @ volts - self.drop
        slope = self.siemens * (over > self.least)
        return over * slope, slope

    def drain_amps(self, volts: Numbers) -> tuple[Numbers, Numbers]:
        """Amperes taken at each node, and how fast they grow with volts."""
        held = np.maximum(volts, self.knee)
        wanted = self.watts / held
        steady = self.amps + wanted
        is_low = volts < self.knee
        slope = np.where(is_low, steady / self.knee, -wanted / held) + self.drain_siemens
        return steady * np.minimum(volts / self.knee, 1.0) + self.drain_siemens * volts, slope

    def excess(self, volts: Numbers) -> tuple[Numbers, Numbers]:
        """Amperes that stay at each node, and minus their derivative by the volts (n, n)."""
        given, given_slope = self.source_amps(volts)
        passed, passed_slope = self.conductor_amps(volts)
        taken, taken_slope = self.drain_amps(volts)
        balance = given @ self.source_at - passed @ self.ends - taken
        slope = (self.ends.T * passed_slope) @ self.ends
        diagonal = given_slope @ self.source_at + taken_slope
        slope.ravel()[:: len(diagonal) + 1] += diagonal
        return balance, slope
