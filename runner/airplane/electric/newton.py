"""Node volts of a circuit: Newton's method along each direction as far as power falls, or held back.

Without constant power the balance is the slope of a convex function, and a step ends where that function
is least along it (regula falsi with the Illinois rule, Dowell and Jarratt 1971). With it a step that
overshoots is held back (Levenberg 1944, Marquardt 1963). Where neither settles, constant power asks for
more than the circuit gives, and the volts collapse: they are followed down as they would fall with a
capacitor at every node, from the highest source's volts on.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from runner.airplane.electric.circuit import Circuit, Numbers

MOST_STEPS: Final = 60
MOST_FALLS: Final = 5_000
LONGEST_FALL: Final = 0.25
"""Volts in one step of a collapse."""
LONGEST_TIME: Final = 1e9
SETTLED_AMPS: Final = 1e-7
LEAST_HOLD: Final = 2.0
"""Siemens at every node that hold the first held step back."""
EASING: Final = 4.0
ROUNDING: Final = 1 + 1e-9
MOST_DIRECTIONS: Final = 25
MOST_TRIALS: Final = 4
"""Along one direction."""
ENOUGH: Final = 0.5
"""Of the slope at the start of a direction: under it, a step is not searched further."""


class UnsettledError(Exception):
    """No voltages were found that balance every node."""


def node_volts(circuit: Circuit) -> Numbers:
    """Volts of every node, at which no node gains or loses more than a tenth of a microampere."""
    start = np.full(len(circuit.amps), float(circuit.emf.max()))
    found = None if circuit.watts.any() else _searched(circuit, start)
    if found is None:
        found = _newton(circuit, start)
    return _fall(circuit, start) if found is None else found


def _searched(circuit: Circuit, start: Numbers) -> Numbers | None:
    """The volts by Newton's directions within 0 V and the highest source; None where they do not settle."""
    top = float(start[0])
    volts = _first(circuit, start)
    excess, slope = circuit.excess(volts)
    for _ in range(MOST_DIRECTIONS):
        if float(excess @ excess) < SETTLED_AMPS**2:
            return volts
        reached = np.minimum(np.maximum(volts + _step(slope, excess, 0.0), 0.0), top)
        volts, excess, slope = _along(circuit, volts, reached - volts, float(excess @ (reached - volts)))
    return None


def _along(
    circuit: Circuit, volts: Numbers, direction: Numbers, falls: float
) -> tuple[Numbers, Numbers, Numbers]:
    """Volts, excess and slope where the way along a direction, `falls` at its start, is about level."""
    low, at_low, high = 0.0, falls, 1.0
    tried = volts + direction
    excess, slope = circuit.excess(tried)
    at_high = float(excess @ direction)
    if at_high >= -ENOUGH * falls:
        return tried, excess, slope
    for _ in range(MOST_TRIALS):
        share = low + (high - low) * at_low / (at_low - at_high)
        tried = volts + share * direction
        excess, slope = circuit.excess(tried)
        here = float(excess @ direction)
        if abs(here) <= ENOUGH * falls:
            break
        if here > 0:
            low, at_low, at_high = share, here, at_high / 2
        else:
            high, at_high, at_low = share, here, at_low / 2
    return tried, excess, slope


def _newton(circuit: Circuit, start: Numbers) -> Numbers | None:
    top = float(start[0])
    volts = _first(circuit, start)
    excess, slope = circuit.excess(volts)
    worst, hold = float(excess @ excess), 0.0
    for _ in range(MOST_STEPS):
        if worst < SETTLED_AMPS**2:
            return volts
        tried = np.minimum(np.maximum(volts + _step(slope, excess, hold), 0.0), top)
        next_excess, next_slope = circuit.excess(tried)
        now = float(next_excess @ next_excess)
        if now <= worst * ROUNDING:
            volts, excess, slope, worst = tried, next_excess, next_slope, now
            hold = hold / EASING if hold > LEAST_HOLD / EASING else 0.0
        else:
            hold = max(LEAST_HOLD, hold * EASING)
    return None


def _fall(circuit: Circuit, volts: Numbers) -> Numbers:
    excess, slope = circuit.excess(volts)
    time = 1e-3
    for _ in range(MOST_FALLS):
        if float(np.abs(excess).max()) < SETTLED_AMPS:
            return volts
        step = _step(slope, excess, 1 / time)
        longest = float(np.abs(step).max())
        if longest > LONGEST_FALL:
            time *= 0.8 * LONGEST_FALL / longest
            continue
        volts = volts + step
        excess, slope = circuit.excess(volts)
        time = min(time * 2, LONGEST_TIME)
    raise UnsettledError


def _step(slope: Numbers, excess: Numbers, hold: float) -> Numbers:
    if hold:
        slope = slope.copy()
        slope.ravel()[:: len(excess) + 1] += hold
    try:
        step = np.linalg.solve(slope, excess)
    except np.linalg.LinAlgError:
        return excess
    return step.astype(np.float64, copy=False)


def _first(circuit: Circuit, start: Numbers) -> Numbers:
    """The volts if every diode conducted and no source met its limit."""
    siemens = circuit.siemens
    slope = (circuit.ends.T * siemens) @ circuit.ends
    taken, _ = circuit.drain_amps(start)
    slope.ravel()[:: len(start) + 1] += circuit.source_siemens @ circuit.source_at + taken / start
    given = (circuit.emf * circuit.source_siemens) @ circuit.source_at
    found = np.linalg.solve(slope, given + (circuit.drop * siemens) @ circuit.ends)
    bounded: Numbers = np.minimum(np.maximum(found, 0.0), start)
    return bounded
